//! Engines that follow the protocol, and others that break it: shell scripts that the tests run.

#[cfg(test)]
mod tests {
    use super::super::crew::{Ended, ask_all};
    use super::super::talk::{Assessed, Limit, Patience, Setup};
    use crate::assessments::{Bound, Score};
    use crate::lesson::given::lesson;
    use shakmaty::Chess;
    use std::fs;
    use std::path::{Path, PathBuf};
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::{Duration, Instant};

    /// White can always play Ke2 and Black Ke7.
    const LESSON: &str =
        "[SetUp \"1\"]\n[FEN \"4k3/7p/8/8/8/8/P7/4K3 w - - 0 1\"]\n\n1. a3 h6 2. a4 h5 *";

    /// What the scripts say where a test puts nothing else: `$move` can be played.
    const BEGIN: &str = "echo id name Steady 1; echo id author Nobody; echo option name Threads type spin; echo uciok";
    const READY: &str = "echo readyok";
    const GO: &str = "echo info depth 5 score cp 30 nodes 100 pv $move; echo bestmove $move";

    /// A script that answers `uci`, `isready` and `go` so, in a folder of its own; it writes its number there.
    fn engine(begin: &str, ready: &str, go: &str, quit: &str) -> (PathBuf, Vec<String>) {
        static MADE: AtomicUsize = AtomicUsize::new(0);
        let made = MADE.fetch_add(1, Ordering::Relaxed);
        let folder =
            std::env::temp_dir().join(format!("plyline-engine-{}-{made}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder for the test");
        let script = format!(
            "cd {}\necho $$ >>pids\ncount=0\nwhile read -r line; do case \"$line\" in\n\
         uci) {begin} ;;\nisready) {ready} ;;\nquit) {quit} ;;\n\
         *' w '*) move=e1e2 ;;\n*' b '*) move=e8e7 ;;\n\
         go*) count=$((count + 1)); {go} ;;\nesac; done\n",
            folder.display()
        );
        let path = folder.join("engine.sh");
        fs::write(&path, script).expect("the script");
        (folder, vec!["sh".to_owned(), path.display().to_string()])
    }

    /// Long enough for any machine where an answer is expected.
    const LONG: Duration = Duration::from_secs(20);
    /// Short where none is.
    const SHORT: Duration = Duration::from_millis(20);

    fn patient(begin: Duration, search: Duration) -> Patience {
        Patience {
            begin,
            search,
            whole: LONG,
            stop: SHORT,
        }
    }

    type Outcome = (Result<Ended, String>, Vec<(usize, Assessed)>, Vec<String>);

    fn asked(
        command: Vec<String>,
        options: &[(&str, &str)],
        patience: Patience,
        engines: usize,
    ) -> Outcome {
        let lesson = lesson(LESSON);
        let all: Vec<(usize, &Chess)> = lesson
            .nodes
            .iter()
            .map(|it| &it.position)
            .enumerate()
            .collect();
        let owned = |it: &(&str, &str)| (it.0.to_owned(), it.1.to_owned());
        let setup = Setup {
            command,
            options: options.iter().map(owned).collect(),
            limit: Limit::Nodes(100),
            patience,
        };
        let (mut found, mut lost) = (Vec::new(), Vec::new());
        let ended = ask_all(
            &setup,
            &all,
            engines,
            &mut |_, at, assessed| {
                found.push((at, assessed));
                Ok(())
            },
            &mut |_, why| lost.push(why.to_owned()),
        );
        found.sort_by_key(|(at, _)| *at);
        (ended, found, lost)
    }

    /// Whether no process of a folder's script is left.
    fn is_gone(folder: &Path) -> bool {
        let pids = fs::read_to_string(folder.join("pids")).unwrap_or_default();
        let until = Instant::now() + LONG;
        let runs = || {
            pids.lines()
                .any(|pid| Path::new("/proc").join(pid).join("exe").exists())
        };
        while runs() && Instant::now() < until {
            std::thread::sleep(Duration::from_millis(10));
        }
        !runs()
    }

    #[test]
    fn an_engine_that_follows_the_protocol_is_heard_with_its_score_for_white() {
        let (folder, command) = engine(BEGIN, READY, GO, "exit");
        for engines in [1, 3] {
            let (ended, found, lost) = asked(command.clone(), &[], patient(LONG, LONG), engines);
            assert_eq!((ended, lost), (Ok(Ended::Whole), vec![]));
            let scores: Vec<Score> = found.iter().map(|(_, it)| it.score).collect();
            assert_eq!(scores, [30, -30, 30, -30, 30].map(Score::Pawns));
            assert_eq!(found[0].1.line, ["Ke2"]);
            assert_eq!((found[0].1.depth, found[0].1.nodes), (Some(5), Some(100)));
        }
        assert!(is_gone(&folder));
    }

    #[test]
    fn options_are_set_before_the_first_position_and_threads_are_one() {
        let begin = format!("echo option name Style type string; {BEGIN}");
        let ready = "echo readyok; echo $line >>log";
        let (folder, command) = engine(&begin, ready, GO, "exit");
        let script = fs::read_to_string(folder.join("engine.sh")).expect("the script");
        let script = script.replace("uci) ", "setoption*) echo \"$line\" >>log ;;\nuci) ");
        fs::write(folder.join("engine.sh"), script).expect("the script");
        let (ended, ..) = asked(
            command.clone(),
            &[("style", "calm")],
            patient(LONG, LONG),
            1,
        );
        assert_eq!(ended, Ok(Ended::Whole));
        let log = fs::read_to_string(folder.join("log")).expect("the log");
        let first: Vec<&str> = log.lines().take(3).collect();
        let wanted = [
            "setoption name style value calm",
            "setoption name Threads value 1",
            "isready",
        ];
        assert_eq!(first, wanted);
        let (ended, ..) = asked(command, &[("Colour", "red")], patient(LONG, LONG), 1);
        assert_eq!(
            ended,
            Err("has no option Colour; it has Style, Threads".to_owned())
        );
    }

    #[test]
    fn what_no_engine_can_answer_is_said_before_anything_is_asked() {
        let none = vec!["/no/such/engine".to_owned()];
        let (ended, ..) = asked(none, &[], patient(LONG, LONG), 2);
        assert!(ended.is_err_and(|why| why.starts_with("/no/such/engine: ")));
        for (begin, ready, patience, wanted) in [
            (
                "exit",
                READY,
                patient(LONG, LONG),
                "ended before it had begun",
            ),
            (
                ":",
                READY,
                patient(SHORT, LONG),
                "has not said that it has begun (uciok) for 0.02 s",
            ),
            (
                "while :; do echo hello; done",
                READY,
                patient(SHORT, LONG),
                "has not said that it has begun (uciok) for 0.02 s",
            ),
            (BEGIN, "exit", patient(LONG, LONG), "has ended"),
        ] {
            let (folder, command) = engine(begin, ready, GO, "exit");
            let (ended, found, _) = asked(command, &[], patience, 1);
            assert_eq!((ended, found.len()), (Err(wanted.to_owned()), 0), "{begin}");
            assert!(is_gone(&folder), "{begin}");
        }
    }

    #[test]
    fn an_engine_that_breaks_off_is_given_up_after_three_positions_and_what_was_found_stays() {
        let talking = Patience {
            whole: SHORT,
            ..patient(LONG, LONG)
        };
        let good_once = |bad: &str| format!("if [ -e done ]; then {bad}; else : >done; {GO}; fi");
        for (bad, patience, wanted) in [
            (
                "exit",
                patient(LONG, LONG),
                "ended in the middle of a search",
            ),
            (":", patient(LONG, SHORT), "is silent for 0.02 s"),
            (
                "while :; do echo info depth 1; done",
                talking,
                "finds no end for 0.02 s",
            ),
            (
                "echo info score cp 1; echo bestmove e1e8",
                patient(LONG, LONG),
                "wants to play e1e8, which cannot be played",
            ),
            (
                "echo info score cp 1; echo bestmove x",
                patient(LONG, LONG),
                "wants to play x, which cannot be played",
            ),
            (
                "echo bestmove '(none)'",
                patient(LONG, LONG),
                "says that there is no move, and there is",
            ),
            (
                "echo bestmove $move",
                patient(LONG, LONG),
                "gives a move and no score",
            ),
            (
                "echo info score cp nothing; echo bestmove $move",
                patient(LONG, LONG),
                "gives a move and no score",
            ),
        ] {
            // The first answer may take as long as it likes.
            let (folder, command) = engine(BEGIN, READY, &good_once(bad), "exit");
            let is_silent = patience.search == SHORT || patience.whole == SHORT;
            let (ended, found, lost) = asked(command, &[], patience, 1);
            assert!(matches!(ended, Ok(Ended::Early(_))), "{bad}: {ended:?}");
            assert!(found.len() == 1 || is_silent, "{bad}");
            assert!(lost.iter().all(|why| why == wanted), "{bad}: {lost:?}");
            assert_eq!(lost.len(), 3, "{bad}");
            assert!(is_gone(&folder), "{bad}");
        }
    }

    #[test]
    fn odd_lines_on_the_way_and_an_end_now_and_then_do_no_harm() {
        let huge = format!("head -c 300000 /dev/zero | tr '\\0' x; echo; {GO}");
        for go in [
            format!("echo; echo hello; echo info; printf '\\377\\n'; {GO}"),
            huge,
            format!("sleep 0.1; {GO}"),
            format!(
                "echo info depth 9 multipv 2 score cp 900 pv $move; {GO}; echo info score cp 900"
            ),
            format!("if [ $count = 2 ]; then exit; fi; {GO}"),
        ] {
            let (folder, command) = engine(BEGIN, READY, &go, "exit");
            let (ended, found, lost) = asked(command, &[], patient(LONG, LONG), 1);
            assert_eq!(
                (ended, found.len(), lost),
                (Ok(Ended::Whole), 5, vec![]),
                "{go}"
            );
            assert_eq!(found[0].1.score, Score::Pawns(30), "{go}");
            assert!(is_gone(&folder), "{go}");
        }
    }

    #[test]
    fn a_bound_is_kept_as_one_and_turned_with_the_side() {
        let go = "echo info depth 5 score mate 3 lowerbound pv $move; echo bestmove $move";
        let (_, command) = engine(BEGIN, READY, go, "exit");
        let (_, found, _) = asked(command, &[], patient(LONG, LONG), 1);
        let both: Vec<_> = found
            .iter()
            .take(2)
            .map(|(_, it)| (it.score, it.bound))
            .collect();
        assert_eq!(
            both,
            [
                (Score::Mate(3), Bound::Lower),
                (Score::Mate(-3), Bound::Upper)
            ]
        );
    }

    #[test]
    fn an_engine_that_does_not_end_when_it_is_asked_to_is_ended() {
        let (folder, command) = engine(BEGIN, READY, GO, "while :; do sleep 0.1; done");
        let (ended, ..) = asked(command, &[], patient(LONG, LONG), 1);
        assert_eq!(ended, Ok(Ended::Whole));
        assert!(is_gone(&folder));
    }
}
