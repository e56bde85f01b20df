//! Changes of a text that put in a bracket or brace, take one out, or move it.

/// A bracket or brace.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    /// `(`
    Open,
    /// `)`
    Close,
    /// `{`
    Begin,
    /// `}`
    End,
}

impl Sign {
    pub(super) fn letter(self) -> char {
        match self {
            Sign::Open => '(',
            Sign::Close => ')',
            Sign::Begin => '{',
            Sign::End => '}',
        }
    }
}

/// What is tried: where a sign is put in, and where one is taken out, in bytes of the text. At
/// least one of both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Edit {
    pub(super) sign: Sign,
    /// Where it is put in, and how often.
    pub(super) put: Option<(usize, usize)>,
    /// Where it is taken out.
    pub(super) taken: Option<usize>,
}

impl Edit {
    pub(super) fn put(sign: Sign, at: usize) -> Edit {
        Edit {
            sign,
            put: Some((at, 1)),
            taken: None,
        }
    }

    pub(super) fn taken(sign: Sign, at: usize) -> Edit {
        Edit {
            sign,
            put: None,
            taken: Some(at),
        }
    }

    pub(super) fn moved(sign: Sign, from: usize, to: usize) -> Edit {
        Edit {
            sign,
            put: Some((to, 1)),
            taken: Some(from),
        }
    }

    /// Whether the text has the sign where it is taken out, and a place where it is put in.
    pub(super) fn fits(&self, text: &str) -> bool {
        let has = |at: usize| text[at..].starts_with(self.sign.letter());
        if let (Some((put, _)), Some(taken)) = (self.put, self.taken)
            && (put == taken || put == taken + 1)
        {
            return false; // nothing would change
        }
        self.taken
            .is_none_or(|at| text.is_char_boundary(at) && has(at))
            && self.put.is_none_or(|(at, _)| text.is_char_boundary(at))
    }

    /// The first byte that it changes.
    pub(super) fn first(&self) -> usize {
        let put = self.put.map_or(usize::MAX, |(at, _)| at);
        put.min(self.taken.unwrap_or(usize::MAX))
    }

    /// The bytes between which everything changes, and what is there then.
    pub(super) fn replaced(&self, text: &str) -> (usize, usize, String) {
        let from = self.first();
        let put = self.put.map_or(from, |(at, _)| at);
        let to = put.max(self.taken.map_or(from, |at| at + 1));
        (from, to, self.within(text, from, to))
    }

    /// The text from one of its bytes on, with the change.
    pub(super) fn tail(&self, text: &str, from: usize) -> String {
        self.within(text, from, text.len())
    }

    fn within(&self, text: &str, from: usize, to: usize) -> String {
        let mut new = String::with_capacity(to - from + 2);
        let mut at = from;
        let taken = self.taken.unwrap_or(usize::MAX);
        let put = self.put.unwrap_or((usize::MAX, 0));
        let mut stops = [put.0, taken];
        stops.sort_unstable();
        for stop in stops {
            if stop == usize::MAX {
                continue;
            }
            new.push_str(&text[at..stop]);
            at = stop;
            if stop == put.0 {
                for _ in 0..put.1 {
                    new.push(self.sign.letter());
                }
            }
            if stop == taken {
                at += 1;
            }
        }
        new.push_str(&text[at..to]);
        new
    }

    /// Where a byte of the changed text is in the text as it was.
    pub(super) fn back(&self, at: usize) -> usize {
        let (put, count) = self.put.unwrap_or((usize::MAX, 0));
        let taken = self.taken.unwrap_or(usize::MAX);
        let mut old = at;
        // In the order of their places: what comes first moves the other.
        if put <= taken {
            if old > put {
                old -= count.min(old - put);
            }
            if old >= taken {
                old += 1;
            }
        } else {
            if old >= taken {
                old += 1;
            }
            if old > put {
                old -= count.min(old - put);
            }
        }
        old
    }
}
