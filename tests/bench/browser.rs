//! What a reader waits for, in Chromium: a step in a long lesson against one in a short lesson,
//! a page with a hundred lessons against a page with one, the memory of a long lesson, and the
//! reading of a long article; and on a slow processor, a link into a long lesson (slow.rs).
//! `sh www/build.sh && cargo bench --bench browser`, or `-- slow` for one row. Figures of one run are compared with each
//! other; ratios count, and a bound that is missed ends it with exit code 1.

#[cfg(target_family = "wasm")]
fn main() {}

#[cfg(not(target_family = "wasm"))]
#[allow(dead_code)] // written for the page tests
#[path = "../support"]
mod support {
    pub mod browser;
    pub mod server;
    pub mod site;
}

#[cfg(not(target_family = "wasm"))]
fn main() -> std::process::ExitCode {
    bench::main()
}

#[cfg(not(target_family = "wasm"))]
#[path = "."]
mod bench {
    #[path = "noted.rs"]
    mod noted;
    #[path = "slow.rs"]
    mod slow;
    use super::support::browser::Browser;
    use super::support::browser::engine::Engine;
    use super::support::site::{SCRIPT, Site};
    use serde_json::json;
    use std::fmt::Write;
    use std::process::ExitCode;

    /// Bounds of the design, "Numbers to hold".
    const STEP_RATIO: f64 = 1.5;
    const STEP_MILLISECONDS: f64 = 1.0;
    const PAGE_RATIO: f64 = 1.3;
    const MEGABYTES: f64 = 16.0;
    /// Milliseconds that a page may not answer while an article is read, and how many times as
    /// long one may take that is four times as long.
    const TASK: f64 = 50.0;
    const ARTICLE_RATIO: f64 = 6.0;

    /// Steps in a batch, because a browser's clock is coarse, and how many batches.
    const STEPS: u32 = 16;
    const BATCHES: usize = 41;
    /// How often each page is opened.
    const VISITS: usize = 21;

    pub fn main() -> ExitCode {
        let site = Site::open().unwrap_or_else(|reason| panic!("{reason}"));
        let browser =
            Browser::start(Engine::Chromium, &site).unwrap_or_else(|reason| panic!("{reason}"));
        let rows: [(&str, &dyn Fn() -> bool); 7] = [
            ("step", &|| step(&browser, "next", CALL, STEP_MILLISECONDS)),
            ("click", &|| step(&browser, "a click", CLICK, f64::INFINITY)),
            ("pages", &|| pages(&browser)),
            ("memory", &|| memory(&browser)),
            ("article", &|| article(&browser)),
            ("slow", &|| slow::slow(&browser)),
            ("aside", &|| slow::aside(&browser)),
        ];
        let words: Vec<String> = std::env::args().skip(1).collect();
        let is_wanted = |name: &str| {
            let named = |word: &&String| !word.starts_with('-');
            words.iter().filter(named).all(|word| word == name)
        };
        let mut held = true;
        for (_, run) in rows.iter().filter(|(name, _)| is_wanted(name)) {
            held &= run();
        }
        let _ = std::fs::remove_dir_all(&site.folder);
        match held {
            true => ExitCode::SUCCESS,
            false => ExitCode::FAILURE,
        }
    }

    /// Prints a row and returns whether its bound is met.
    fn row(what: &str, figures: &str, held: bool) -> bool {
        compared(what, figures, "", "", held)
    }

    /// The same with the middle half of the rounds, and the bound by itself where the figures do not name it.
    fn compared(what: &str, figures: &str, spread: &str, bound: &str, held: bool) -> bool {
        let verdict = if held { "held" } else { "MISSED" };
        let all = [figures, spread, bound].join(" ");
        println!("{what:<48}{:<64}{verdict}", all.trim());
        noted::note(what, figures, spread, bound, Some(held));
        held
    }

    /// The middle half of the ratios of two lists, round by round.
    fn middle(these: &[f64], those: &[f64]) -> String {
        let mut ratios: Vec<f64> = these.iter().zip(those).map(|(it, of)| it / of).collect();
        ratios.sort_by(f64::total_cmp);
        let at = |part: f64| ratios[((ratios.len() - 1) as f64 * part).round() as usize];
        format!("{:.2}-{:.2}", at(0.25), at(0.75))
    }

    fn median(mut values: Vec<f64>) -> f64 {
        values.sort_by(f64::total_cmp);
        values[values.len() / 2]
    }

    /// A lesson of about so many nodes: knights go out and home, with a comment and a variation
    /// every few moves.
    fn lesson(nodes: usize) -> String {
        let cycle = [["Nf3", "Nf6"], ["Ng1", "Ng8"]];
        let (mut text, mut count, mut number) = (String::new(), 0, 1);
        while count < nodes {
            let [white, black] = cycle[(number + 1) % 2];
            let _ = write!(text, "{number}. {white} {black} ");
            count += 2;
            if number % 5 == 0 && count + 4 < nodes {
                let _ = write!(
                    text,
                    "{{The knights are out, and may go home again.}} ({number}... a6 {{A quiet move.}} {}. a3 b6 b3) ",
                    number + 1
                );
                count += 4;
            }
            number += 1;
        }
        format!("{text}*")
    }

    /// One step on, by a script and by a reader.
    const CALL: &str = "element.next()";
    const CLICK: &str = "next.click()";

    /// Milliseconds for one step in lessons of 20 and of 2,000 nodes, in turn. A reader's click
    /// also asks for the layout of the page, to keep the move in sight: work of the next paint
    /// that a batch of clicks does each time, so only its ratio is bound.
    fn step(browser: &Browser, what: &str, call: &str, bound: f64) -> bool {
        let body: String = [20, 2000]
            .iter()
            .map(|nodes| {
                format!(
                    "<ply-line id=\"n{nodes}\"><pre>{}</pre></ply-line>",
                    lesson(*nodes)
                )
            })
            .collect();
        browser.show(SCRIPT, &body);
        let script = format!(
            "const run = (id) => {{
               const element = line(id);
               const next = button('next', id);
               element.go(0);
               const began = performance.now();
               for (let step = 0; step < given.steps; step += 1) {call};
               return (performance.now() - began) / given.steps;
             }};
             const times = {{}};
             for (const id of given.ids) {{
               times[id] = run(id);
               await painted();
             }}
             return [times.n20, times.n2000]"
        );
        let mut times = [Vec::new(), Vec::new()];
        for batch in 0..BATCHES + 5 {
            let mut ids = ["n20", "n2000"];
            ids.rotate_left(batch % 2);
            let found = browser.js_with(&script, json!({ "steps": STEPS, "ids": ids }));
            // The first ones warm the engine up.
            for (index, times) in times.iter_mut().enumerate().filter(|_| batch >= 5) {
                times.push(found[index].as_f64().expect("a time"));
            }
        }
        let spread = middle(&times[1], &times[0]);
        let [short, long] = times.map(median);
        let ratio = long / short;
        let limit = match bound.is_finite() {
            true => format!("{STEP_RATIO} times, {bound} ms"),
            false => format!("{STEP_RATIO} times"),
        };
        compared(
            &format!("a step by {what}, 2,000 nodes against 20"),
            &format!("{ratio:.2} times, {long:.3} ms against {short:.3}"),
            &spread,
            &limit,
            ratio <= STEP_RATIO && long < bound,
        )
    }

    /// From the start of the navigation until the first lesson is drawn and can be used; and
    /// beside it what the browser takes for the same pages without plyline, until they are
    /// parsed and painted.
    fn pages(browser: &Browser) -> bool {
        let parsed = "globalThis.usable = new Promise((done) => {
            const shown = () => requestAnimationFrame(() => setTimeout(() => done(performance.now())));
            document.addEventListener('DOMContentLoaded', shown);
          });";
        browser.site.write("parsed.js", parsed);
        let ([one, hundred], _) = opening(browser, "<script src=\"/parsed.js\"></script>");
        println!(
            "{:47} {hundred:.0} ms against {one:.0} ms: {:.2} times",
            "the same pages without plyline, first painted",
            hundred / one
        );
        let watch = "globalThis.usable = new Promise((done) => {
            const look = () => (document.querySelector('ply-line')?.made > 0 ? done(performance.now()) : requestAnimationFrame(look));
            look();
          });";
        browser.site.write("usable.js", watch);
        let head = format!("<script src=\"/usable.js\"></script>\n{SCRIPT}");
        let ([one, hundred], spread) = opening(browser, &head);
        let ratio = hundred / one;
        compared(
            "100 lessons on a page against 1, first usable",
            &format!("{ratio:.2} times, {hundred:.0} ms against {one:.0}"),
            &spread,
            &format!("{PAGE_RATIO} times"),
            ratio <= PAGE_RATIO,
        )
    }

    /// Milliseconds until pages with one lesson and with a hundred say that they are usable, and the middle half of their
    /// ratios.
    fn opening(browser: &Browser, head: &str) -> ([f64; 2], String) {
        let part = format!(
            "<p>{}</p><ply-line><pre>{}</pre></ply-line>",
            "Some words before a lesson. ".repeat(40),
            lesson(60)
        );
        let paths = [1, 100].map(|count| browser.write(head, &part.repeat(count)));
        let mut times = [Vec::new(), Vec::new()];
        for visit in 0..=VISITS {
            for which in [visit % 2, 1 - visit % 2] {
                browser.open(&paths[which]);
                let time = browser.js("return usable").as_f64().expect("a time");
                if visit > 0 {
                    times[which].push(time);
                }
            }
        }
        let spread = middle(&times[1], &times[0]);
        (times.map(median), spread)
    }

    /// The core's memory with one long lesson read and drawn.
    fn memory(browser: &Browser) -> bool {
        let watch = "const { instantiate } = WebAssembly;
            WebAssembly.instantiate = async (...given) => {
              const made = await instantiate(...given);
              globalThis.core = (made.instance ?? made).exports;
              return made;
            };";
        browser.site.write("core.js", watch);
        let head = format!("<script src=\"/core.js\"></script>\n{SCRIPT}");
        browser.show(
            &head,
            &format!(
                "<ply-line id=\"long\"><pre>{}</pre></ply-line>",
                lesson(10_000)
            ),
        );
        let bytes = browser
            .js("line().go(5000); return Object.values(core).find((value) => value instanceof WebAssembly.Memory).buffer.byteLength")
            .as_f64();
        let megabytes = bytes.expect("a size") / 1e6;
        compared(
            "memory of the core, a lesson of 10,000 nodes",
            &format!("{megabytes:.1} MB"),
            "",
            &format!("{MEGABYTES} MB"),
            megabytes <= MEGABYTES,
        )
    }

    /// An article of so many times 100 words and 5 named moves, about a lesson of 400 nodes.
    fn words(times: usize) -> String {
        let words = "The knights come out, and White has no need to hurry about it. ".repeat(4);
        let more = "Black answers in kind, and both sides have time for other things. ".repeat(3);
        let mut text = String::new();
        for at in 0..times {
            let number = at % 140 + 1;
            let [white, black] = [["Nf3", "Nf6"], ["Ng1", "Ng8"]][(number + 1) % 2];
            let next = [["Ng1", "Ng8"], ["Nf3", "Nf6"]][(number + 1) % 2];
            let _ = write!(
                text,
                "<p>{words}After <em>{number}.{white}</em> {black} the move {}.{} is natural, and {}...a6 waits; \
                 then <strong>{}</strong> follows. {more}</p>",
                number + 1,
                next[0],
                number + 1,
                next[1]
            );
        }
        format!(
            "<ply-line id=\"l\"><pre>{}</pre></ply-line><ply-prose id=\"article\">{text}</ply-prose>",
            lesson(400)
        )
    }

    /// The longest task and the whole time of reading an article of 10,000 words with 500 named
    /// moves, and the time of a fourth of it.
    fn article(browser: &Browser) -> bool {
        let watch = "globalThis.tasks = [];
            new PerformanceObserver((list) => tasks.push(...list.getEntries())).observe({ type: 'longtask' });
            document.addEventListener('ply-ready', () => (globalThis.began = performance.now()));";
        browser.site.write("tasks.js", watch);
        let head = format!("<script src=\"/tasks.js\"></script>\n{SCRIPT}");
        let paths = [25, 100].map(|times| browser.write(&head, &words(times)));
        let mut times = [Vec::new(), Vec::new()];
        // The longest task of the calmest visit: other work of the machine only adds to it.
        let (mut longest, mut links) = (f64::INFINITY, 0);
        for visit in 0..6 {
            for (which, path) in paths.iter().enumerate() {
                browser.open(path);
                let found = browser.js(
                    "await customElements.whenDefined('ply-prose');
                     await line('article').ready;
                     const took = performance.now() - began;
                     await pause(100);
                     const during = tasks.filter(({ startTime, duration }) => startTime + duration > began);
                     return [took, Math.max(0, ...during.map(({ duration }) => duration)), document.querySelectorAll('ply-ref').length]",
                );
                if visit > 0 {
                    times[which].push(found[0].as_f64().expect("a time"));
                    links = found[2].as_u64().expect("a number");
                }
                if visit > 0 && which == 1 {
                    longest = longest.min(found[1].as_f64().expect("a time"));
                }
            }
        }
        let spread = middle(&times[1], &times[0]);
        let [quarter, whole] = times.map(median);
        let ratio = whole / quarter;
        compared(
            &format!("an article of 10,000 words, {links} moves"),
            &format!(
                "{ratio:.1} times a quarter of it, {whole:.0} ms, longest task {longest:.0} ms"
            ),
            &spread,
            &format!("{ARTICLE_RATIO} times, task {TASK} ms"),
            links >= 450 && ratio <= ARTICLE_RATIO && longest <= TASK,
        )
    }
}
