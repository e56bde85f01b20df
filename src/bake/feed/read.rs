//! Where the HTML of a feed's entries is (crate quick-xml, which says of each tag where it ends).

use super::{DEEPEST, Fault, FeedError, Part, Written, XHTML};
use crate::text::Span;
use quick_xml::NsReader;
use quick_xml::escape::unescape;
use quick_xml::events::{BytesStart, Event};
use quick_xml::name::{QName, ResolveResult};
use std::ops::Range;

const ATOM: &str = "http://www.w3.org/2005/Atom";
const CONTENT: &str = "http://purl.org/rss/1.0/modules/content/";

/// What an element of a feed is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// `rss`
    Rss,
    /// `channel` of RSS
    Channel,
    /// `feed` of Atom
    Feed,
    /// `item` of RSS
    Item,
    /// `entry` of Atom
    Entry,
    /// HTML as text.
    Html,
    /// `content` or `summary` in XHTML, and the `div` within it.
    Holder,
    Div,
    /// `link` and `guid` of RSS: their text is an address.
    Link,
    Guid,
    Other,
}

/// An element that is open.
struct Open {
    kind: Kind,
    name: String,
    /// Its start tag.
    tag: Range<usize>,
    /// The nearest `xml:base`.
    base: Option<String>,
    /// Whether there are elements and CDATA sections in it.
    has_elements: bool,
    has_cdata: bool,
}

/// What is known of the entry that is open.
#[derive(Default)]
struct Entry {
    /// The first of its parts.
    first: usize,
    link: Option<String>,
    /// The address that an RSS `guid` is.
    permanent: Option<String>,
}

/// The HTML of a feed, in its order; none in XML or JSON that is no feed.
///
/// # Errors
/// What is no JSON; what is no well-formed XML as far as it is looked at here (tags that belong together, attributes,
/// entities, one root), or is not in UTF-8.
pub fn parts(xml: &str) -> Result<Vec<Part>, FeedError> {
    let begin = if xml.starts_with('\u{feff}') { 3 } else { 0 };
    if u32::try_from(xml.len()).is_err() {
        return Err(error(0..0, Fault::Large));
    }
    // After the byte order mark, as all here.
    if xml[begin..].trim_ascii_start().starts_with('{') {
        return super::json::parts(xml, begin);
    }
    let mut read = Read {
        xml,
        open: Vec::new(),
        has_root: false,
        has_doctype: false,
        entry: Entry::default(),
        parts: Vec::new(),
    };
    let mut reader = NsReader::from_str(&xml[begin..]);
    loop {
        let from = begin + reader.buffer_position() as usize;
        let event = match reader.read_event() {
            Ok(event) => event,
            Err(why) => {
                let at = (begin + reader.error_position() as usize).min(xml.len());
                return Err(error(at..at, Fault::Broken(why.to_string())));
            }
        };
        let at = from..begin + reader.buffer_position() as usize;
        if let Event::Eof = event {
            return read.ended();
        }
        read.event(&reader, &event, at)?;
    }
}

fn error(at: Range<usize>, fault: Fault) -> FeedError {
    let at = Span::new(at.start, at.end);
    FeedError { at, fault }
}

fn broken(at: Range<usize>, why: impl Into<String>) -> FeedError {
    error(at, Fault::Broken(why.into()))
}

/// What has been read.
struct Read<'x> {
    xml: &'x str,
    open: Vec<Open>,
    has_root: bool,
    /// A document type may define entities that are not known here.
    has_doctype: bool,
    entry: Entry,
    parts: Vec<Part>,
}

impl Read<'_> {
    fn event(
        &mut self,
        reader: &NsReader<&[u8]>,
        event: &Event<'_>,
        at: Range<usize>,
    ) -> Result<(), FeedError> {
        match event {
            Event::Start(tag) => self.start(reader, tag, at),
            Event::Empty(tag) => {
                self.start(reader, tag, at)?;
                self.open.pop();
                Ok(())
            }
            Event::End(_) => {
                self.end(&at);
                Ok(())
            }
            Event::CData(_) => match self.open.last_mut() {
                Some(open) => {
                    open.has_cdata = true;
                    Ok(())
                }
                None => Err(broken(at, "a text outside of the document's element")),
            },
            Event::Text(text) => {
                let is_out = self.open.is_empty() && !text.trim_ascii().is_empty();
                match is_out {
                    true => Err(broken(at, "a text outside of the document's element")),
                    false => Ok(()),
                }
            }
            Event::GeneralRef(named) => match self.open.is_empty() {
                true => Err(broken(at, "a text outside of the document's element")),
                false => self.entity(&self.xml[at.clone()], named, at),
            },
            Event::Decl(declared) => match declared.encoding() {
                Some(Ok(name)) if !name.eq_ignore_ascii_case("utf-8") => {
                    Err(error(at, Fault::Encoding(name.into_owned())))
                }
                Some(Err(why)) => Err(broken(at, why.to_string())),
                _ => Ok(()),
            },
            Event::DocType(_) => {
                self.has_doctype = true;
                Ok(())
            }
            _ => Ok(()),
        }
    }

    /// An entity is one of XML's five, a number, or one that the document type may define; but not
    /// within HTML, where it would have to be known what it is.
    fn entity(&self, written: &str, name: &str, at: Range<usize>) -> Result<(), FeedError> {
        let is_within = |open: &Open| matches!(open.kind, Kind::Html | Kind::Div);
        if unescape(written).is_ok() || self.has_doctype && !self.open.iter().any(is_within) {
            return Ok(());
        }
        Err(error(at, Fault::Entity(name.to_owned())))
    }

    fn start(
        &mut self,
        reader: &NsReader<&[u8]>,
        tag: &BytesStart<'_>,
        at: Range<usize>,
    ) -> Result<(), FeedError> {
        match self.open.is_empty() {
            true if self.has_root => return Err(broken(at, "a second element of the document")),
            _ if self.open.len() >= DEEPEST => return Err(error(at, Fault::Deep)),
            _ => self.has_root = true,
        }
        let told = self.attributes(tag, &at)?;
        let kind = self.kind(reader, tag, &told);
        match kind {
            Kind::Item | Kind::Entry => {
                self.entry = Entry {
                    first: self.parts.len(),
                    ..Entry::default()
                };
            }
            Kind::Other if told.is_own_page && self.is_in(Kind::Entry) => {
                let is_atom = namespace(reader, tag.name()) == Some(ATOM);
                if is_atom && tag.local_name().as_ref() == "link" && self.entry.link.is_none() {
                    self.entry.link = told.href;
                }
            }
            _ => {}
        }
        let outer = self.open.last_mut();
        let base = told.base.or_else(|| outer.as_ref()?.base.clone());
        if let Some(outer) = outer {
            outer.has_elements = true;
        }
        self.open.push(Open {
            kind,
            name: tag.name().as_ref().to_owned(),
            tag: at,
            base,
            has_elements: false,
            has_cdata: false,
        });
        Ok(())
    }

    fn attributes(&self, tag: &BytesStart<'_>, at: &Range<usize>) -> Result<Told, FeedError> {
        let mut told = Told {
            is_own_page: true,
            is_address: true,
            ..Told::default()
        };
        let mut list = tag.attributes();
        // Looking for doubled names takes quadratic time.
        for attribute in list.with_checks(false) {
            let attribute = attribute.map_err(|why| broken(at.clone(), why.to_string()))?;
            if attribute.value.contains('<') {
                return Err(broken(at.clone(), "a \"<\" in the value of an attribute"));
            }
            let value = match unescape(&attribute.value) {
                Ok(value) => value.into_owned(),
                // Of a document type; nothing that is looked at here.
                Err(_) if self.has_doctype => continue,
                Err(why) => return Err(broken(at.clone(), why.to_string())),
            };
            match attribute.key.as_ref() {
                "xml:base" => told.base = Some(value),
                "type" => told.form = Some(value),
                "href" => told.href = Some(value),
                "rel" => told.is_own_page = value == "alternate",
                "isPermaLink" => told.is_address = value != "false",
                _ => {}
            }
        }
        Ok(told)
    }

    fn is_in(&self, kind: Kind) -> bool {
        self.open.last().is_some_and(|open| open.kind == kind)
    }

    /// What an element is, by what it is in, its namespace, its name and its attributes.
    fn kind(&self, reader: &NsReader<&[u8]>, tag: &BytesStart<'_>, told: &Told) -> Kind {
        let name = tag.local_name();
        let space = namespace(reader, tag.name());
        let outer = self.open.last().map(|open| open.kind);
        match (outer, space, name.as_ref()) {
            (None, None, "rss") => Kind::Rss,
            (Some(Kind::Rss), None, "channel") => Kind::Channel,
            (Some(Kind::Channel), None, "item") => Kind::Item,
            (Some(Kind::Item), None, "description") => Kind::Html,
            (Some(Kind::Item), Some(CONTENT), "encoded") => Kind::Html,
            (Some(Kind::Item), None, "link") => Kind::Link,
            (Some(Kind::Item), None, "guid") if told.is_address => Kind::Guid,
            (None, Some(ATOM), "feed") => Kind::Feed,
            (None | Some(Kind::Feed), Some(ATOM), "entry") => Kind::Entry,
            (Some(Kind::Entry), Some(ATOM), "content" | "summary") => match &told.form {
                Some(form) if form == "html" || form == "text/html" => Kind::Html,
                Some(form) if form == "xhtml" => Kind::Holder,
                _ => Kind::Other,
            },
            (Some(Kind::Holder), Some(XHTML), "div") => Kind::Div,
            _ => Kind::Other,
        }
    }

    /// The end of an element; the reader has made sure that it is the one that is open.
    fn end(&mut self, at: &Range<usize>) {
        let Some(open) = self.open.pop() else {
            return;
        };
        // The end tag comes after the start tag.
        let inside = open.tag.end..at.start;
        let text = &self.xml[inside.clone()];
        match open.kind {
            Kind::Html if !open.has_elements => {
                let from = inside.start + (text.len() - text.trim_ascii_start().len());
                let written = match open.has_cdata {
                    true => Written::Cdata,
                    false => Written::Escaped,
                };
                let to = from + text.trim_ascii().len();
                self.part(from..to, written, open.base, String::new());
            }
            Kind::Div => {
                let prefix = open
                    .name
                    .split_once(':')
                    .map_or("", |(prefix, _)| prefix)
                    .to_owned();
                self.part(inside, Written::Xhtml, open.base, prefix);
            }
            Kind::Link if !open.has_elements => self.entry.link = address(text),
            Kind::Guid if !open.has_elements => self.entry.permanent = address(text),
            Kind::Item | Kind::Entry => {
                let entry = std::mem::take(&mut self.entry);
                let link = entry.link.or(entry.permanent);
                for part in self.parts.iter_mut().skip(entry.first) {
                    part.link.clone_from(&link);
                }
            }
            _ => {}
        }
    }

    fn part(&mut self, at: Range<usize>, written: Written, base: Option<String>, prefix: String) {
        if !at.is_empty() {
            self.parts.push(Part {
                span: Span::new(at.start, at.end),
                written,
                link: None,
                base,
                prefix,
            });
        }
    }

    fn ended(self) -> Result<Vec<Part>, FeedError> {
        let end = self.xml.len();
        match self.open.last() {
            Some(open) => {
                let why = format!("<{}> is never closed", open.name);
                Err(broken(open.tag.clone(), why))
            }
            None if !self.has_root => Err(broken(end..end, "there is no element in it")),
            None => Ok(self.parts),
        }
    }
}

/// What the attributes of an element say.
#[derive(Default)]
struct Told {
    base: Option<String>,
    /// `type`
    form: Option<String>,
    href: Option<String>,
    /// Whether a `link` of Atom leads to the entry's page: without `rel` it does (RFC 4287, 4.2.7.2).
    is_own_page: bool,
    /// Whether a `guid` of RSS is an address: if nothing else is said it is.
    is_address: bool,
}

fn namespace<'r>(reader: &'r NsReader<&[u8]>, name: QName<'_>) -> Option<&'r str> {
    match reader.resolver().resolve_element(name).0 {
        ResolveResult::Bound(space) => Some(space.0),
        _ => None,
    }
}

/// The text of an element that holds an address.
fn address(written: &str) -> Option<String> {
    let text = super::html::text(written);
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}
