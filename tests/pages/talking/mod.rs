//! Lessons and the talks about them: what is heard, and what the board does meanwhile.

pub mod follow;
pub mod media;
pub mod plays;
pub mod times;

use crate::harness::File;
use crate::support::browser::Browser;

pub const FILES: &[File] = &[
    ("follow", follow::CASES),
    ("media", media::CASES),
    ("plays", plays::CASES),
    ("times", times::CASES),
];

/// The nodes are 1.e4 (1), 1...e5 (2), 2.Nf3 (3), 2...Nc6 (4), 2...d6 (5), 3.d4 (6) and 3.Bb5 (7).
pub const LESSON: &str = "1. e4 {The centre first.\n\nHear: 0:02-0:03, 0:20} e5 2. Nf3 {Hear: 0:03} Nc6 \
     (2... d6 {A quiet way.\n\nHear: 0:05-0:07} 3. d4 {Hear: 0:06.}) 3. Bb5 {The bishop looks at the knight.\n\nHear: 0:08-0:18} *";

/// An element that is none of the browser's own media and has their interface. Its time goes on while
/// it plays, slowly unless `voice.rate` is 1, and it says so by no event.
pub const VOICE: &str = "const voice = document.createElement('div');
    let [at, since] = [0, null];
    const tell = (type) => voice.dispatchEvent(new Event(type));
    Object.defineProperties(voice, {
      paused: { get: () => since === null },
      currentTime: {
        get: () => at + (since === null ? 0 : ((performance.now() - since) / 1000) * voice.rate),
        set(second) {
          at = second;
          if (since !== null) since = performance.now();
          tell('seeking');
        },
      },
    });
    voice.play = async () => {
      since ??= performance.now();
      tell('play');
    };
    voice.pause = () => {
      [at, since] = [voice.currentTime, null];
      tell('pause');
    };
    voice.rate = 0.02;
    voice.id = 'voice';
    document.getElementById('voice')?.remove();
    document.querySelector('main').append(voice);
    window.voice = voice;";

/// Shows a lesson whose talk is the element `voice`, and waits until its times have been read.
#[track_caller]
pub fn show(browser: &Browser, head: &str, text: &str) {
    let head = format!("<link rel=\"stylesheet\" href=\"/site.css\">\n{head}");
    let body = format!(
        "<p>Some words.</p><ply-line id=\"one\" talk=\"voice\"><pre>{text}</pre></ply-line><p>After.</p>"
    );
    browser.show(&head, &body);
    browser.until("inside('.times')");
}

/// What the events say of how the board was moved: by whom, and the move.
pub const MOVED: &str = "return told.filter(({ type }) => type === 'ply-moved').map(({ detail }) => [detail.by, detail.san])";
