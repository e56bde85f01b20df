//! How serious a finding is.

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth a look; nothing is wrong.
    Hint,
    /// Readable, but the text disagrees with itself.
    Warning,
    /// Something cannot be read or played.
    Error,
}

impl Severity {
    /// The word that reports use.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Hint => "hint",
            Severity::Warning => "warning",
            Severity::Error => "error",
        }
    }
}
