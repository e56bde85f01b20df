//! Which games count, and how they are split: by what the tags of the PGN standard say (section 8.1).

use super::Results;

/// The tags of a game that matter to counting, as written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Header {
    pub white: String,
    pub black: String,
    pub event: String,
    pub site: String,
    pub date: String,
    pub result: Option<Results>,
    pub white_rating: Option<u32>,
    pub black_rating: Option<u32>,
    pub time: String,
    pub fen: Option<String>,
    pub is_variant: bool,
}

impl Header {
    /// Takes a tag of a game.
    pub fn take(&mut self, name: &[u8], value: &str) {
        let text = || value.to_owned();
        match name {
            b"White" => self.white = text(),
            b"Black" => self.black = text(),
            b"Event" => self.event = text(),
            b"Site" => self.site = text(),
            b"Date" => self.date = text(),
            b"Result" => self.result = Results::named(value),
            b"WhiteElo" => self.white_rating = rating(value),
            b"BlackElo" => self.black_rating = rating(value),
            b"TimeControl" => self.time = text(),
            b"FEN" => self.fen = Some(text()),
            // Names of ordinary chess: common practice, no source.
            b"Variant" => {
                let known = ["", "standard", "chess", "normal", "from position"];
                self.is_variant = !known.contains(&value.trim().to_ascii_lowercase().as_str());
            }
            _ => {}
        }
    }

    /// The year; none if it is not known.
    pub fn year(&self) -> Option<u32> {
        let year = self.date.get(..4)?.parse().ok()?;
        (year > 0).then_some(year)
    }

    /// The mean of both ratings; none if one is not known.
    pub fn rating(&self) -> Option<u32> {
        Some(u32::midpoint(self.white_rating?, self.black_rating?))
    }

    /// The date as the PGN standard writes it, with `00` for what is not known of it, so that the text of
    /// a later one is greater; none if the year is not known, or it is no date.
    pub fn known_date(&self) -> Option<String> {
        let known = Dates::read(&self.date)?;
        let (first, last) = (known.first, known.last);
        let (year, month, day) = (first / 10_000, first / 100 % 100, first % 100);
        Some(match (first / 100 == last / 100, first == last) {
            (_, true) => format!("{year:04}.{month:02}.{day:02}"),
            (true, false) => format!("{year:04}.{month:02}.00"),
            (false, false) => format!("{year:04}.00.00"),
        })
    }
}

/// A rating as it is written; 0 and signs say that there is none.
fn rating(value: &str) -> Option<u32> {
    value
        .trim()
        .parse()
        .ok()
        .filter(|it| (1..4000).contains(it))
}

/// Days, as numbers that are in their order: `20240601`. Both ends belong to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dates {
    pub first: u32,
    pub last: u32,
}

impl Dates {
    /// What a date covers: `2024` a year, `2024-06` a month, `2024-06-01` a day, also with dots, and
    /// with `??` for what is not known. None if the year is not known, or it is no date.
    pub fn read(text: &str) -> Option<Dates> {
        let mut parts = text.trim().split(['-', '.', '/']);
        let year: u32 = parts.next().filter(|it| it.len() == 4)?.parse().ok()?;
        let mut part = |most: u32| match parts.next() {
            None => Some(None),
            Some(unknown) if !unknown.is_empty() && unknown.bytes().all(|it| it == b'?') => {
                Some(None)
            }
            Some(text) => {
                let number = text.parse().ok().filter(|it| (1..=most).contains(it))?;
                Some(Some(number))
            }
        };
        let month = part(12)?;
        let day = part(month.map_or(31, |month| days(year, month)))?;
        if year == 0 || parts.next().is_some() {
            return None;
        }
        let on = |month: u32, day: u32| year * 10_000 + month * 100 + day;
        Some(match (month, day) {
            (None, _) => Dates {
                first: on(1, 1),
                last: on(12, 31),
            },
            (Some(month), None) => Dates {
                first: on(month, 1),
                last: on(month, days(year, month)),
            },
            (Some(month), Some(day)) => Dates {
                first: on(month, day),
                last: on(month, day),
            },
        })
    }
}

/// The days of a month.
fn days(year: u32, month: u32) -> u32 {
    let is_leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    match month {
        2 if is_leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// By what counts are split.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Split {
    Year,
    /// Bands of 200 by the mean of both ratings.
    Rating,
    /// The classes of the FIDE Laws of Chess, appendices A and B.
    Time,
}

impl Split {
    const ALL: [Split; 3] = [Split::Year, Split::Rating, Split::Time];

    /// Its name in a counts file.
    pub fn name(self) -> &'static str {
        match self {
            Split::Year => "year",
            Split::Rating => "rating",
            Split::Time => "time",
        }
    }

    /// The one of a name.
    pub fn named(name: &str) -> Option<Split> {
        Split::ALL.into_iter().find(|it| it.name() == name)
    }

    /// The part to which a game belongs.
    pub fn part(self, header: &Header) -> String {
        match self {
            Split::Year => match header.year() {
                Some(year) => year.to_string(),
                None => "unknown".to_owned(),
            },
            Split::Rating => match header.rating() {
                Some(mean) => {
                    let from = mean / 200 * 200;
                    format!("{from}-{}", from + 199)
                }
                None => "unrated".to_owned(),
            },
            Split::Time => class(&header.time).unwrap_or("unknown").to_owned(),
        }
    }
}

/// The class of a time control, as the PGN standard writes it (section 9.6.1): FIDE Laws of Chess,
/// appendix A.1 (rapid: more than 10 and less than 60 minutes, with 60 times the increment) and B.1
/// (blitz: 10 minutes or less).
fn class(control: &str) -> Option<&'static str> {
    let (mut seconds, mut increment) = (0_u64, 0_u64);
    for (at, period) in control.split(':').enumerate() {
        let time = period.rsplit_once('/').map_or(period, |(_, time)| time);
        let time = time.trim_start_matches('*');
        let (base, added) = time.split_once('+').unwrap_or((time, "0"));
        seconds = seconds.checked_add(base.trim().parse().ok()?)?;
        let added: u64 = added.trim().parse().ok()?;
        if at == 0 {
            increment = added;
        }
    }
    let whole = seconds.checked_add(increment.checked_mul(60)?)?;
    Some(match whole {
        0 => return None,
        1..=600 => "blitz",
        601..3600 => "rapid",
        _ => "standard",
    })
}

/// Which games count.
#[derive(Clone, Debug, Default)]
pub struct Wanted {
    /// The first day.
    pub since: Option<u32>,
    /// The last day.
    pub until: Option<u32>,
    /// The lowest and the highest rating of both players.
    pub rating: Option<(u32, u32)>,
    /// Whether the same players, date and moves are one game.
    pub once: bool,
    pub split: Option<Split>,
}

impl Wanted {
    /// Whether a game counts by its tags. A date that is known in part counts if all days that it
    /// may be do.
    pub fn takes(&self, header: &Header) -> bool {
        let is_within = match (self.since, self.until) {
            (None, None) => true,
            (since, until) => Dates::read(&header.date).is_some_and(|it| {
                since.is_none_or(|since| it.first >= since)
                    && until.is_none_or(|until| it.last <= until)
            }),
        };
        let is_rated = self.rating.is_none_or(|(low, high)| {
            let fits = |it: Option<u32>| it.is_some_and(|it| (low..=high).contains(&it));
            fits(header.white_rating) && fits(header.black_rating)
        });
        is_within && is_rated && !header.is_variant
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_that_is_known_in_part_covers_all_days_that_it_may_be() {
        let dates = |first, last| Some(Dates { first, last });
        assert_eq!(Dates::read("2024.06.??"), dates(20_240_601, 20_240_630));
        assert_eq!(Dates::read("2024-06-09"), dates(20_240_609, 20_240_609));
        assert_eq!(Dates::read("2024"), dates(20_240_101, 20_241_231));
        assert_eq!(Dates::read("????.??.??"), None);
        assert_eq!(Dates::read("2024.13.01"), None);
        assert_eq!(Dates::read("24"), None);
    }

    #[test]
    fn time_controls_are_of_the_classes_of_the_laws() {
        // FIDE Laws of Chess, appendices A.1 and B.1.
        let classes = [
            "180+2",
            "600",
            "601",
            "900+10",
            "3540",
            "3600",
            "40/7200:3600",
            "1800+30",
            "-",
            "?",
            "",
        ];
        let found = classes.map(|it| class(it).unwrap_or("unknown"));
        assert_eq!(
            found,
            [
                "blitz", "blitz", "rapid", "rapid", "rapid", "standard", "standard", "standard",
                "unknown", "unknown", "unknown"
            ]
        );
    }
}
