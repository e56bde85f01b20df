//! Drawing a mounted lesson: whole once, and then only what a step changes.

use super::mounted::Mounted;
use crate::lesson::{Lesson, LineId, NodeId};
use crate::markup::{self, line_id, mark_class, mark_id, move_id, row_id, way_path};
use crate::nodes::{morph, morph_element};
use crate::text::{Findings, Listed};
use crate::view::{self, Effect, Hand, Map, Mode, Notice, State, Word, wording};
use js_sys::WeakRef;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, ShadowRoot};

/// Pixels that are seen of the map around the place on the board.
const AROUND: f64 = 34.0;

/// Where a lesson is drawn.
pub struct Mount {
    /// A weak reference to the shadow root: a strong one would keep its element, and that the
    /// lesson, so that removed elements would never be freed.
    root: WeakRef<ShadowRoot>,
    /// The layout of the map, while it is open.
    map: Option<Map>,
    /// Whether there was no room for a margin beside the text.
    is_narrow: bool,
}

impl Mount {
    pub fn new(root: &ShadowRoot, is_narrow: bool) -> Mount {
        Mount {
            root: WeakRef::new(root),
            map: None,
            is_narrow,
        }
    }

    /// The root; it exists as long as its element can be used.
    pub fn root(&self) -> Option<ShadowRoot> {
        self.root.deref()
    }

    /// What has the focus.
    pub fn focused(&self) -> Option<Element> {
        self.root()?.active_element()
    }

    /// The first element of a kind.
    fn find(&self, selector: &str) -> Option<Element> {
        self.root()?.query_selector(selector).ok().flatten()
    }

    fn by_id(&self, id: &str) -> Option<Element> {
        self.root()?.get_element_by_id(id)
    }

    /// Marks the current move in the text; it is the one tab stop of all moves. At the start
    /// the first move is.
    fn mark(&self, node: NodeId, is_current: bool) {
        let element = self.by_id(&move_id(node.max(1)));
        set_current(element.as_ref(), (is_current && node > 0).then_some("step"));
        if let Some(element) = element {
            let _ = element.set_attribute("tabindex", if is_current { "0" } else { "-1" });
        }
    }

    /// At the end of a lesson its board scrolls away: then the page scrolls back until the whole
    /// board is seen, where the move is still shown.
    fn keep_board(&self, current: &Element) {
        let Some(margin) = self.find(".margin") else {
            return;
        };
        let (board, text) = (
            margin.get_bounding_client_rect(),
            current.get_bounding_client_rect(),
        );
        // A board before the text is not moved.
        if board.top() < 0.0 && board.bottom() > text.top() {
            scroll_to(&margin);
        }
    }

    /// Whether the board has left the text for the margin of the article, or for the window's edge:
    /// its reader follows it in other sentences.
    fn is_away(&self) -> bool {
        self.find(".margin[popover]").is_some()
            || self.top(".margin") + AROUND < self.top(".lesson")
    }

    /// Whether the board is where it stays while the text scrolls: at the top of the window, or a little below.
    fn is_stuck(&self) -> bool {
        (-1.0..20.0).contains(&self.top(".margin"))
    }

    /// How far below the top of the window an element begins, in pixels; 0 where there is none.
    fn top(&self, selector: &str) -> f64 {
        self.find(selector)
            .map_or(0.0, |element| element.get_bounding_client_rect().top())
    }

    /// The current row of the outline.
    fn mark_row(&self, lesson: &Lesson, from: NodeId, to: NodeId) {
        let rows = [from, to].map(|node| view::current_row(lesson, node));
        if rows[0] == rows[1] {
            return;
        }
        for (row, is_current) in rows.into_iter().zip([false, true]) {
            let element = row.and_then(|row| self.by_id(&row_id(row)));
            set_current(element.as_ref(), is_current.then_some("true"));
        }
    }

    /// The marks of the map that a step changes, and the way so far.
    fn mark_map(&self, lesson: &Lesson, state: &State, from: NodeId, to: NodeId) {
        let Some(map) = &self.map else {
            return;
        };
        for (node, is_current) in [(from, false), (to, true)] {
            if let Some(mark) = self.by_id(&mark_id(node)) {
                let _ = mark.set_attribute("class", mark_class(is_current, true));
            }
        }
        if let Some(way) = self.by_id("way") {
            let _ = way.set_attribute("d", &way_path(map, &view::way(lesson, state)));
        }
        self.show_mark(to);
    }

    /// Brings a mark of the map into sight with what is around it, its line's label too. Inside the
    /// map alone: a step in the text does not take the page to its map.
    fn show_mark(&self, node: NodeId) {
        if let Some(mark) = self.by_id(&mark_id(node))
            && let Ok(Some(window)) = mark.closest(".mapbox")
        {
            let (mark, seen) = (
                mark.get_bounding_client_rect(),
                window.get_bounding_client_rect(),
            );
            let past = |low: f64, high: f64| (low - AROUND).min(0.0) + (high + AROUND).max(0.0);
            let across = past(mark.left() - seen.left(), mark.right() - seen.right());
            let down = past(mark.top() - seen.top(), mark.bottom() - seen.bottom());
            window.set_scroll_left(window.scroll_left() + across as i32);
            window.set_scroll_top(window.scroll_top() + down as i32);
        }
    }

    /// Whether a variation is folded.
    fn fold(&self, line: LineId, is_folded: bool) {
        let Some(item) = self.by_id(&line_id(line)) else {
            return;
        };
        let _ = match is_folded {
            true => item.set_attribute("class", "folded"),
            false => item.remove_attribute("class"),
        };
        if let Ok(Some(label)) = item.query_selector("[data-fold]") {
            let is_open = if is_folded { "false" } else { "true" };
            let _ = label.set_attribute("aria-expanded", is_open);
        }
    }
}

impl Mounted {
    /// Draws everything. Returns how many nodes were made.
    pub(super) fn draw_all(&mut self) -> u32 {
        let none = Findings::default();
        let shown = if self.debug { &self.findings } else { &none };
        let Some(place) = &mut self.place else {
            return 0;
        };
        let missing = |notes: &[String]| {
            let mut tree = markup::missing(&self.words, !self.has_prompt);
            if self.debug && !notes.is_empty() {
                tree.push(markup::notes(&self.words, notes));
            }
            tree
        };
        let tree = match &self.lesson {
            Some(lesson) => {
                let mut page = view::page(
                    &self.words,
                    lesson,
                    &self.state,
                    shown,
                    &self.source,
                    &self.games,
                );
                page.is_narrow = place.is_narrow;
                if self.debug {
                    page.notes.extend(self.said_of_prose.iter().cloned());
                }
                place.map = page.map.as_ref().map(|(map, _)| map.clone());
                self.heard.clone_from(&page.figure.said);
                let tree = markup::root(&page, &self.state.mode, self.has_prompt);
                tree.unwrap_or_else(|| missing(&page.notes))
            }
            None => {
                let notes = self.findings.iter().take(3);
                let notes: Vec<String> = notes
                    .map(|finding| wording::note(&self.source, finding))
                    .listed();
                match self.is_lost {
                    true => missing(&notes),
                    false => {
                        let has_text = !self.source.text().trim().is_empty();
                        markup::failure(&self.words, has_text, &notes)
                    }
                }
            }
        };
        self.rows.clear();
        let made = place.root().map_or(0, |root| morph(&root, &tree));
        // At the start it is in sight, and to check would lay out all lessons of the page at once.
        if self.state.node > 0 {
            place.show_mark(self.state.node);
        }
        made
    }

    /// Draws what a step changed.
    pub(super) fn draw_step(&mut self, lesson: &Lesson, effects: &[Effect]) {
        let is_whole = |effect: &Effect| matches!(effect, Effect::Lines | Effect::Opened);
        if effects.iter().any(is_whole) {
            // Whether it is out of the way of what has the focus is the script's.
            let under = self.place.as_ref().and_then(|place| place.find(".under"));
            let class = under.as_ref().and_then(|it| it.get_attribute("class"));
            self.draw_all();
            if let (Some(under), Some(class)) = (under, class) {
                let _ = under.set_attribute("class", &class);
            }
            return;
        }
        let state = &self.state;
        let Some(place) = &mut self.place else {
            return;
        };
        let mut figure_stays = true;
        for effect in effects {
            figure_stays &= matches!(effect, Effect::Folded(_));
            match *effect {
                Effect::Moved { from, to } => {
                    place.mark(from, false);
                    place.mark(to, true);
                    place.mark_row(lesson, from, to);
                    place.mark_map(lesson, state, from, to);
                }
                Effect::Folded(line) => place.fold(line, state.folded.contains(&line)),
                Effect::Map => {
                    // And the button that says whether it is open, below.
                    place.map = state.map.then(|| view::map(lesson, state));
                    let drawn = place.map.as_ref();
                    let drawn = drawn.map(|map| (map, view::way(lesson, state)));
                    let wanted = markup::map_place(&self.words, drawn, Word::MapKey);
                    if let Some(element) = place.find(".mapplace") {
                        morph_element(&element, &wanted);
                    }
                    place.show_mark(state.node);
                }
                _ => {}
            }
        }
        if figure_stays {
            return;
        }
        let mut shown = view::figure(&self.words, lesson, state);
        let is_step = effects.iter().any(Effect::is_step);
        match &state.notice {
            None | Some(Notice::Against) if is_step => {
                shown.said.clone_from(&self.heard); // until `say`
            }
            // What was answered is closed, or a piece put back: the last move is not said once more.
            None if state.hand.held().is_none() && matches!(state.mode, Mode::Lesson { .. }) => {
                shown.said.clear();
            }
            _ => {}
        }
        self.draw_figure(&shown);
    }

    /// Draws the figure alone.
    pub(super) fn draw_figure(&mut self, shown: &view::Figure) {
        let Some(place) = &self.place else {
            return;
        };
        if let Some(figure) = place.find("figure") {
            morph_element(
                &figure,
                &markup::stepped(&self.words, shown, &mut self.rows),
            );
        }
        if let Some(panel) = place.find(".panel") {
            morph_element(&panel, &markup::panel(&self.words, shown));
        }
        self.heard.clone_from(&shown.said);
    }

    /// Puts the printed form beside the lesson, or takes it away. A question or a recall is printed
    /// as it is.
    pub(super) fn draw_print(&mut self, on: bool) {
        let (Some(place), Some(lesson)) = (&self.place, &self.lesson) else {
            return;
        };
        if !matches!(self.state.mode, Mode::Lesson { .. }) {
            return;
        }
        let lines = view::printed_line(&self.words, lesson, self.state.side, &self.source);
        let signs = view::signs(&self.words, lesson, &vec![false; lesson.nodes.len()]);
        let printed = markup::plain(&self.words, &lines, &signs);
        if let Some(paper) = place.find(".paper") {
            morph_element(&paper, &markup::paper(on.then_some(printed)));
        }
    }

    /// Scrolls to the move on the board.
    pub(super) fn bring(&self) {
        if let Some(place) = &self.place
            && let Some(current) = place.by_id(&move_id(self.state.node.max(1)))
        {
            scroll_to(&current);
            place.keep_board(&current);
        }
    }

    /// Scrolls to the board.
    pub(super) fn face(&self) {
        let margin = self.place.as_ref().and_then(|place| place.find(".margin"));
        if let Some(margin) = margin {
            scroll_to(&margin);
        }
    }

    /// Moves the focus into the field for moves and questions, which has been opened, or back to the
    /// word that opens it.
    pub(super) fn face_desk(&self) {
        let to = match self.state.desk {
            true => ".typed",
            false => "[data-do=desk]",
        };
        focus(
            self.place
                .as_ref()
                .and_then(|place| place.find(to))
                .as_ref(),
        );
    }

    /// Keeps the focus in the element and the current move in sight.
    pub(super) fn follow(&self, had_focus: Option<Element>, follow: bool) {
        let Some(place) = &self.place else {
            return;
        };
        let current = place.by_id(&move_id(self.state.node.max(1)));
        // Beside the board the focus stays, because it stays in sight; what is in the text or
        // before it scrolls away, and the focus goes on to the move.
        let in_text = had_focus.as_ref().is_some_and(|element| {
            element.is_connected() && matches!(element.closest(".margin"), Ok(None))
        });
        let in_grid = had_focus
            .as_ref()
            .is_some_and(|element| element.has_attribute("data-square"));
        let was_answer = had_focus
            .as_ref()
            .is_some_and(|element| element.get_attribute("data-do").as_deref() == Some("close"));
        let was_choice = had_focus
            .as_ref()
            .is_some_and(|element| element.has_attribute("data-becomes"));
        if follow && in_text {
            focus(current.as_ref());
        } else if matches!(self.state.hand, Hand::Promotes { .. }) {
            // The choice lies over the board, perhaps over the square that has the focus.
            if !was_choice {
                focus(place.find("[data-becomes]").as_ref());
            }
        } else if in_grid || was_choice {
            focus(place.find("[data-square][tabindex='0']").as_ref());
        } else if had_focus.is_some_and(|element| !element.is_connected()) {
            // A row of the next moves is gone; the focus goes to the button "next". In a recall it
            // goes to one of its buttons, but none that begins again, and if there is none to a
            // move.
            let next = match self.state.mode {
                Mode::Recall(_) => {
                    "span.try button, figure:not(:has(span.try *)) [data-square][tabindex='0']"
                }
                _ if self.state.desk && was_answer => ".typed",
                _ => "[data-do=next]",
            };
            focus(place.find(next).as_ref());
        }
        // Where the board stays in sight as the page scrolls, so does what is played on it.
        let stays = !in_grid || place.is_stuck();
        if follow && stays && (in_text || !place.is_away()) {
            self.bring();
        }
        // An answer or a list may have pushed what has the focus out of sight.
        if !in_text && let Some(focused) = place.focused() {
            scroll_to(&focused);
        }
    }
}

fn scroll_to(element: &Element) {
    let options = web_sys::ScrollIntoViewOptions::new();
    options.set_block(web_sys::ScrollLogicalPosition::Nearest);
    options.set_inline(web_sys::ScrollLogicalPosition::Nearest);
    element.scroll_into_view_with_scroll_into_view_options(&options);
}

fn set_current(element: Option<&Element>, value: Option<&str>) {
    let Some(element) = element else {
        return;
    };
    let _ = match value {
        Some(value) => element.set_attribute("aria-current", value),
        None => element.remove_attribute("aria-current"),
    };
}

fn focus(element: Option<&Element>) {
    if let Some(element) = element.and_then(|element| element.dyn_ref::<HtmlElement>()) {
        let _ = element.focus();
    }
}
