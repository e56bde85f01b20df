//! The words of counts in English, by the names that a language's file uses too.

use crate::text::table;

table! {
    Title "counts" "Counts from games";
    Group "countsGroup" ",";
    Percent "countsPercent" "{n}\u{a0}%";
    Under "countsUnder" "under 1\u{a0}%";
    Over "countsOver" "over 99\u{a0}%";
    Many "countsMany" "{games} games: White won {white}, drawn {drawn}, Black won {black}";
    Few "countsFew" "few games, {games}: White won {white}, drawn {drawn}, Black won {black}";
    Unknown "countsUnknown" "; {games} of unknown result";
    Bare "countsBare" "games of unknown result: {games}";
    None "countsNone" "no game of the collection came here";
    Score "countsScore" "White\u{2019}s score";
    Drawn "countsDrawn" "all drawn";
    Whole "countsWhole" "all games of the collection: {score}";
    Predicted "countsPredicted" "what the ratings predict: {score}";
    Beside "countsBeside" "{games} games, White\u{2019}s score {score}";
    BesideFew "countsBesideFew" "few games, {games}";
    Ends "countsEnds" "{white} won, {drawn} drawn, {black} lost";
    Move "countsMove" "move";
    Games "countsGames" "games";
    Others "countsOthers" "other moves";
    InText "countsInText" "counts in the text";
    Quoted "countsQuoted" "Quoted from {source}: {said}.";
    Source "countsSource" "source";
    Read "countsRead" "{names}: {games} games counted, the latest of {date}; {damaged} damaged and {left} left out.";
    Only "countsOnly" "Counts say who played what and how it ended, not what is best.";
    Key "countsKey" "On the scale: dot, White\u{2019}s score; line, the scores that fit these results if chance is allowed for (95\u{a0}%); tick, all games; ring, what the ratings predict.";
    Year "countsYear" "year";
    Rating "countsRating" "rating";
    Time "countsTime" "time";
    NotKnown "countsNotKnown" "unknown";
    Unrated "countsUnrated" "unrated";
    Standard "countsStandard" "standard";
    Rapid "countsRapid" "rapid";
    Blitz "countsBlitz" "blitz";
}

impl Words {
    /// A text.
    pub fn get(&self, word: Word) -> &str {
        self.0.at(word as usize)
    }

    /// A number with its thousands apart.
    pub fn number(&self, number: u64) -> String {
        let digits = number.to_string();
        let mut text = String::new();
        for (at, digit) in digits.chars().enumerate() {
            if at > 0 && (digits.len() - at).is_multiple_of(3) {
                text.push_str(self.get(Word::Group));
            }
            text.push(digit);
        }
        text
    }

    /// A number of percent.
    pub fn percent(&self, whole: u64) -> String {
        self.fill(Word::Percent, &[("n", &whole.to_string())])
    }

    /// Parts of a sum as whole percents that add to 100: `under 1 %` of what is more than nothing, and never
    /// `100 %` where something is otherwise.
    pub fn percents(&self, counts: &[u64; 3]) -> [String; 3] {
        let parts = super::shares(counts, 100);
        let sum = counts[0] + counts[1] + counts[2];
        let word = |at: usize| match (parts.get(at).copied().unwrap_or(0), counts[at]) {
            (0, 1..) => self.get(Word::Under).to_owned(),
            (100, count) if count < sum => self.get(Word::Over).to_owned(),
            (part, _) => self.percent(part),
        };
        [word(0), word(1), word(2)]
    }
}
