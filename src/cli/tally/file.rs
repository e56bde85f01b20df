//! Counts files: made of what was counted, read, added up, told in a line.

use super::format::{At, Counts, FORMAT, Filters};
use super::{counted_as, grouped, named};
use crate::cli::args;
use crate::games::{Positions, Results, Split, Standing, Tally};
use std::collections::BTreeSet;
use std::fs;
use std::io::Read;
use std::path::Path;

impl Counts {
    /// What was counted of the games that were asked for.
    ///
    /// # Errors
    /// Where a source is named twice.
    pub fn of(
        tally: &Tally,
        positions: &Positions,
        split: Option<Split>,
        wanted: &args::Tally,
    ) -> Result<Counts, String> {
        let standings = tally.standings(positions);
        let names = positions.names().into_iter();
        let at = names
            .zip(&standings)
            .map(|(fen, it)| At::of(fen, it, split));
        Ok(Counts {
            plyline: FORMAT.to_owned(),
            source: sources(wanted.games.iter().map(|path| named(path)))?,
            date: tally.date.as_ref().map(|it| it.replace(".00", ".??")),
            filters: Filters {
                since: wanted.since.clone(),
                until: wanted.until.clone(),
                rating: wanted.rating.clone(),
                once: wanted.once,
                by: split.map(|it| it.name().to_owned()),
            },
            games: tally.all.games(),
            damaged: tally.damaged,
            left: tally.left,
            results: (&tally.all).into(),
            positions: at.collect(),
        })
    }

    /// Reads a counts file.
    ///
    /// # Errors
    /// Why it cannot be used.
    pub fn load(path: &Path) -> Result<Counts, String> {
        let said = |why: String| format!("{}: {why}", path.display());
        let text =
            fs::read_to_string(path).map_err(|error| said(crate::cli::files::reason(&error)))?;
        Counts::read(&text).map_err(said)
    }

    /// The same with what was counted in other games.
    ///
    /// # Errors
    /// Why they cannot be added up.
    pub fn with(mut self, other: Counts) -> Result<Counts, String> {
        if self.filters.once || other.filters.once {
            return Err(
                "counted with --once, which holds within one run only; count all games in one"
                    .to_owned(),
            );
        }
        if self.filters != other.filters {
            return Err("counted with other filters than the first file".to_owned());
        }
        let fens =
            |it: &Counts| -> Vec<String> { it.positions.iter().map(|at| at.fen.clone()).collect() };
        if fens(&self) != fens(&other) {
            return Err("counted for another lesson than the first file".to_owned());
        }
        self.source = sources(self.source.into_iter().chain(other.source))?;
        let days = |date: &Option<String>| date.as_ref().map(|it| it.replace("??", "00"));
        if days(&other.date) > days(&self.date) {
            self.date = other.date;
        }
        self.games += other.games;
        self.damaged += other.damaged;
        self.left += other.left;
        let mut results = Results::from(&self.results);
        results.add(&(&other.results).into());
        self.results = (&results).into();
        let split = self.filters.by.as_deref().and_then(Split::named);
        for (here, there) in self.positions.iter_mut().zip(&other.positions) {
            let mut both = here.standing();
            both.add(&there.standing());
            *here = At::of(std::mem::take(&mut here.fen), &both, split);
        }
        Ok(self)
    }

    /// The games that were counted.
    pub fn games(&self) -> u64 {
        self.games
    }

    /// What was counted at the positions of a lesson.
    ///
    /// # Errors
    /// If it was counted for another.
    pub fn standings(&self, positions: &Positions) -> Result<Vec<Standing>, String> {
        let fens = self.positions.iter().map(|it| it.fen.as_str());
        match fens.eq(positions.names().iter().map(String::as_str)) {
            true => Ok(self.positions.iter().map(At::standing).collect()),
            false => {
                Err("counted for another lesson, or before it was changed; count again".to_owned())
            }
        }
    }

    /// Whether no game comes to any of the positions.
    pub fn is_empty(&self) -> bool {
        self.positions.iter().all(|it| it.games == 0)
    }

    /// What there is in it, in a line.
    pub fn summary(&self) -> String {
        let reached = self.positions.iter().filter(|it| it.games > 0).count();
        let here = self.positions.iter().map(|it| it.games).max();
        let mut text = format!(
            "{} of {} to this lesson; {reached} of its {} positions are met",
            grouped(here.unwrap_or(0)),
            match self.games {
                1 => "1 game comes".to_owned(),
                games => format!("{} games come", grouped(games)),
            },
            self.positions.len()
        );
        if self.left > 0 {
            text += &format!("; {} left out", counted_as(self.left, "game"));
        }
        if self.damaged > 0 {
            text += &format!("; {} damaged", counted_as(self.damaged, "game"));
        }
        text
    }
}

/// Whether a counts file may be written there.
///
/// # Errors
/// Where the folder is missing, or something else is there.
pub fn may_write(out: &Path) -> Result<(), String> {
    let folder = out.parent().filter(|it| !it.as_os_str().is_empty());
    if let Some(folder) = folder.filter(|it| !it.is_dir()) {
        let folder = folder.display();
        return Err(format!("{}: there is no folder {folder}", out.display()));
    }
    let mut start = Vec::new();
    let there = fs::File::open(out).map(|file| file.take(64).read_to_end(&mut start));
    let is_counts = start.starts_with(b"{\"plyline\":\"counts ");
    match there.is_err() || start.is_empty() || is_counts {
        true => Ok(()),
        false => Err(format!(
            "{}: this is no counts file, and it is left as it is",
            out.display()
        )),
    }
}

/// The names of sources, in their order as text.
///
/// # Errors
/// Where two are the same: a merge could not tell whether games are counted twice.
pub fn sources(names: impl Iterator<Item = String>) -> Result<Vec<String>, String> {
    let mut all = BTreeSet::new();
    for name in names {
        if !all.insert(name.clone()) {
            return Err(format!(
                "two collections are named {name}; rename one, or name it once"
            ));
        }
    }
    Ok(all.into_iter().collect())
}
