//! Which request may pass. Other sites, other programs on this machine and other users of it can reach the server, so
//! each request is looked at before anything is done for it.

use super::path::Path;

/// What lets requests pass: the port that the server listens on, and the key that its address was printed with.
#[derive(Debug)]
pub struct Gate {
    pub port: u16,
    pub key: String,
}

/// The headers that are looked at, each with all its values.
#[derive(Clone, Debug, Default)]
pub struct Headers<'a> {
    pub host: Vec<&'a str>,
    pub origin: Vec<&'a str>,
    pub site: Vec<&'a str>,
    pub key: Vec<&'a str>,
    pub kind: Vec<&'a str>,
}

/// What a request that may pass asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// A file or folder below the one that is served.
    File(Path),
    /// A file that the program brings itself.
    Own(Path),
    /// Something is to be done.
    Command(Command),
}

/// What can be asked for by POST.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    Page,
    Wait,
    Edit,
    Enter,
    Undo,
    Redo,
    Restore,
    Mend,
    Lesson,
}

const COMMANDS: [(&str, Command); 9] = [
    ("page", Command::Page),
    ("wait", Command::Wait),
    ("edit", Command::Edit),
    ("enter", Command::Enter),
    ("undo", Command::Undo),
    ("redo", Command::Redo),
    ("restore", Command::Restore),
    ("mend", Command::Mend),
    ("lesson", Command::Lesson),
];

/// Where the addresses of the program itself begin.
const OWN: &str = "/.plyline/";

/// A request that does not pass: what it is told, and no more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Denied(pub &'static str);

impl Gate {
    /// Looks at a request: its method, its target as it is in the first line, and its headers.
    ///
    /// # Errors
    /// Where it does not pass.
    pub fn pass(
        &self,
        method: &str,
        target: &str,
        headers: &Headers<'_>,
    ) -> Result<Wanted, Denied> {
        let host = one(&headers.host).ok_or(Denied("The request must name one host."))?;
        let names = ["127.0.0.1", "localhost"].map(|name| format!("{name}:{}", self.port));
        // A name that somebody makes mean this machine (rebinding) is none of these.
        if !names.iter().any(|name| name == host) {
            return Err(Denied("This is not the address that plyline printed."));
        }
        match headers.origin.as_slice() {
            [] => {}
            [origin] if origin.strip_prefix("http://") == Some(host) => {}
            _ => return Err(Denied("Other sites may ask for nothing here.")),
        }
        let is_post = method == "POST";
        match headers.site.as_slice() {
            [] | ["same-origin"] => {}
            ["none"] if !is_post => {}
            _ => {
                return Err(Denied(
                    "Pages of other sites and ports may ask for nothing here.",
                ));
            }
        }
        match method {
            "GET" | "HEAD" => file(target),
            "POST" => self.command(target, headers),
            _ => Err(Denied("Only GET, HEAD and POST are answered.")),
        }
    }

    fn command(&self, target: &str, headers: &Headers<'_>) -> Result<Wanted, Denied> {
        let name = target.strip_prefix(OWN).unwrap_or_default();
        let command = COMMANDS.iter().find(|(known, _)| *known == name);
        let (_, command) = command.ok_or(Denied("Nothing can be sent to this address."))?;
        let key = one(&headers.key).unwrap_or_default();
        if !is_same(key.as_bytes(), self.key.as_bytes()) {
            return Err(Denied(
                "This needs the key that plyline printed with its address.",
            ));
        }
        let kind = one(&headers.kind).unwrap_or_default();
        let kind = kind.split(';').next().unwrap_or_default().trim();
        // Forms cannot send this kind.
        match kind.eq_ignore_ascii_case("application/json") {
            true => Ok(Wanted::Command(*command)),
            false => Err(Denied("Only application/json is read.")),
        }
    }
}

fn file(target: &str) -> Result<Wanted, Denied> {
    let refused = Denied("This address leads to no page.");
    let own = target.strip_prefix(OWN).map(|rest| format!("/{rest}"));
    match own {
        Some(rest) => Path::read(&rest).map(Wanted::Own),
        None => Path::read(target).map(Wanted::File),
    }
    .ok_or(refused)
}

/// The one value of a header.
fn one<'a>(values: &[&'a str]) -> Option<&'a str> {
    match values {
        [value] => Some(value),
        _ => None,
    }
}

/// Whether two keys are the same, in a time that does not tell how much of them is.
fn is_same(one: &[u8], two: &[u8]) -> bool {
    let pairs = one.iter().zip(two);
    let differs = pairs.fold(0, |differs, (one, two)| differs | (one ^ two));
    one.len() == two.len() && !two.is_empty() && std::hint::black_box(differs) == 0
}
