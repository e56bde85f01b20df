//! A processor six times as slow: what a reader waits for who comes by a link to a place in a long
//! lesson, part by part, and the longest time that the page does not answer.

use super::super::support::browser::Browser;
use super::row;
use serde_json::Value;

/// How many times as slow, and the window of a phone.
const RATE: u32 = 6;
const PHONE: [u32; 2] = [390, 844];
/// Milliseconds: until the board is seen, that the page may not answer, for a step.
const BOARD: f64 = 1500.0;
const TASK: f64 = 200.0;
const STEP: f64 = 100.0;
/// How often the page is opened. The calmest visit counts: other work of the machine only adds to it.
const VISITS: usize = 9;

/// The long lesson of the demo, and a place in it.
const PAGE: &str = include_str!("../../demo-site/pages/the-jump-that-must-wait/index.html");
const PLACE: &str = "#exchange/5.Bg5";

/// The parts of the time until the board is seen, in order: each ends at its mark.
const PARTS: &[&str] = &[
    "page and script",
    "parsing and unpacking",
    "compiling",
    "reading",
    "drawing",
    "layout",
    "painting",
];

/// Marks the end of each part from outside: by the calls that the script makes there.
const WATCH: &str = "globalThis.ends = [];
    globalThis.tasks = [];
    globalThis.shifts = 0;
    const mark = (at) => (ends[at] ??= performance.now());
    new PerformanceObserver((list) => tasks.push(...list.getEntries().map(({ duration }) => duration))).observe({ type: 'longtask', buffered: true });
    new PerformanceObserver((list) => list.getEntries().forEach(({ value }) => (shifts += value))).observe({ type: 'layout-shift', buffered: true });
    const around = (owner, name, before, after) => {
      const real = owner[name];
      owner[name] = function (...given) {
        before(this);
        const made = real.apply(this, given);
        after?.(made);
        return made;
      };
    };
    around(customElements, 'define', () => mark(0));
    around(WebAssembly, 'compile', () => mark(1), (made) => made.then(() => mark(2)));
    document.addEventListener('ply-ready', () => mark(3));
    around(Element.prototype, 'attachShadow', () => {}, (root) => {
      const isLesson = root.host.localName === 'ply-line';
      if (isLesson) new MutationObserver(() => root.querySelector('.board') && mark(4)).observe(root, { childList: true });
    });
    globalThis.seen = new Promise((done) => {
      around(Element.prototype, 'scrollIntoView', () => {}, () => {
        if (ends[5]) return;
        mark(5);
        requestAnimationFrame(() => setTimeout(() => done(mark(6))));
      });
    });";

/// Rows for the parts, and whether the bounds are met.
pub fn slow(browser: &Browser) -> bool {
    browser.site.write("watch.js", WATCH);
    let watched = PAGE.replacen("<head>", "<head><script src=\"/watch.js\"></script>", 1);
    assert_ne!(watched, PAGE, "the demo's page has a head");
    browser.site.write("slow/index.html", watched);
    browser.size(Some(PHONE));
    let mut visits: Vec<Vec<f64>> = Vec::new();
    for _ in 0..VISITS {
        browser.throttle(1);
        browser.open("about:blank");
        browser.throttle(RATE);
        browser.open(&format!("/slow/{PLACE}"));
        let found = browser.js("await seen;
             const calm = () => new Promise((done) => requestIdleCallback(done));
             for (let times = 0; times < 20; times += 1) await calm();
             await pause(1000);
             const [longest, moved] = [Math.max(0, ...tasks), shifts];
             const steps = [];
             for (let step = 0; step < 5; step += 1) {
               const began = performance.now();
               button('next').click();
               await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
               steps.push(performance.now() - began);
               await pause(300);
             }
             steps.sort((one, other) => one - other);
             return [...ends, longest, steps[2], moved]");
        let found: Option<Vec<f64>> = found
            .as_array()
            .map(|list| list.iter().filter_map(Value::as_f64).collect());
        visits.push(found.unwrap_or_default());
    }
    browser.throttle(1);
    browser.size(None);
    let least = |of: &dyn Fn(&[f64]) -> f64| {
        let all = visits.iter().map(|visit| of(visit));
        all.fold(f64::INFINITY, f64::min)
    };
    for (at, part) in PARTS.iter().enumerate() {
        let took = least(&|visit| visit[at] - if at == 0 { 0.0 } else { visit[at - 1] });
        println!("{:48}{took:.0} ms", format!("{RATE} times as slow: {part}"));
    }
    let parts = PARTS.len();
    let shifts = visits.iter().map(|visit| visit[parts + 2]).sum::<f64>();
    let bounds = [
        (
            "a linked place is seen",
            least(&|visit| visit[parts - 1]),
            BOARD,
        ),
        ("the longest task", least(&|visit| visit[parts]), TASK),
        ("a step, seen", least(&|visit| visit[parts + 1]), STEP),
    ];
    let mut held = row(
        &format!("{RATE} times as slow: text that moves"),
        &format!("{shifts:.4} of layout shift (0 allowed)"),
        shifts == 0.0,
    );
    for (what, took, bound) in bounds {
        held &= row(
            &format!("{RATE} times as slow: {what}"),
            &format!("{took:.0} ms ({bound} allowed)"),
            took <= bound,
        );
    }
    held
}

/// Milliseconds until something is said of an aside, and of the longest task while it is searched.
const SAID: f64 = 1000.0;
const TURN: f64 = 50.0;

/// An aside of a lesson that answers, the module loaded: until something is said, the whole answer, and the longest task
/// of the search. The step itself is not part of it.
pub fn aside(browser: &Browser) -> bool {
    let body = "<ply-line id=\"one\" answers=\"search\"><pre>1. e4 e5 2. Nf3 Nc6 3. Bc4 Nf6 4. d3 *</pre></ply-line>";
    browser.show(super::SCRIPT, body);
    let ask = |played: &str| {
        browser.js(&format!(
            "await line().ready; line().go('4.d3'); await painted(); await pause(300);
             globalThis.tasks = [];
             const watch = new PerformanceObserver((list) => tasks.push(...list.getEntries().map(({{ duration }}) => duration)));
             const began = performance.now();
             line().play('{played}');
             while (!inside('.answer')) await pause(5);
             watch.observe({{ type: 'longtask' }});
             while (!inside('.answer p')?.textContent.match(/\\d/)) await pause(5);
             const said = performance.now() - began;
             while (inside('.answer').getAttribute('aria-busy') !== 'false') await pause(5);
             const whole = performance.now() - began;
             await pause(50);
             return [said, whole, Math.max(0, ...tasks)]"
        ))
    };
    ask("a6");
    browser.throttle(RATE);
    let mut best = [f64::INFINITY; 3];
    for played in ["Bd6", "h6", "Bb4+", "d6", "Be7"] {
        let found = ask(played);
        for (at, it) in best.iter_mut().enumerate() {
            *it = it.min(found[at].as_f64().unwrap_or(f64::INFINITY));
        }
    }
    browser.throttle(1);
    let [said, whole, longest] = best;
    row(
        "an aside on a processor six times as slow",
        &format!(
            "something said after {said:.0} ms ({SAID}), all after {whole:.0} ms, longest task {longest:.0} ms ({TURN})"
        ),
        said <= SAID && longest <= TURN,
    )
}
