//! What is laid out on screen and where, for tests of the layout.

use iced::{
    Pixels, Point, Rectangle, Size, Vector,
    advanced::{
        text::{self, Paragraph as _},
        widget::{
            Id, Operation,
            operation::{Focusable, Scrollable},
        },
    },
    alignment,
};

use crate::window::{
    controls::is_fence,
    theme::{self, size},
};

type Paragraph = <iced::Renderer as text::Renderer>::Paragraph;

/// Something on screen, in logical pixels.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// What it says; nothing of a button.
    pub text: Option<String>,
    /// Where it lies.
    pub bounds: Rectangle,
    /// The part of it that no scroller cuts off.
    pub seen: Rectangle,
    /// The scroller that it lies in, by its number.
    pub within: Option<usize>,
}

impl Laid {
    /// Returns how much of a text of one line has no room, in logical pixels; nothing of what has
    /// more lines, or is no text.
    pub fn cut(&self) -> f32 {
        let Some(said) = &self.text else { return 0.0 };
        let line = f32::from(text::LineHeight::default().to_absolute(Pixels(1.0)));
        let sizes = [size::SMALL, size::BODY, size::LEAD];
        let is_of = |size: &f32| (size * line - self.bounds.height).abs() < 0.1;
        let Some(size) = sizes.into_iter().find(is_of) else { return 0.0 };
        let paragraph = Paragraph::with_text(text::Text {
            content: said,
            bounds: Size::INFINITE,
            size: Pixels(size),
            line_height: text::LineHeight::default(),
            font: theme::FONT,
            align_x: text::Alignment::Default,
            align_y: alignment::Vertical::Top,
            shaping: text::Shaping::Advanced,
            wrapping: text::Wrapping::None,
        });
        (paragraph.min_width() - self.bounds.width).max(0.0)
    }
}

/// Collects everything on screen that a person sees and can press.
pub(super) struct Looking {
    pub all: Vec<Laid>,
    scrollers: usize,
    within: Option<usize>,
    moved: Vector,
    shown: Rectangle,
    entering: Option<(usize, Vector, Rectangle)>,
    /// How many buttons there are, in sight or not, and which has the focus.
    pub buttons: usize,
    pub focus: Option<usize>,
}

impl Looking {
    pub(super) fn at(window: Size) -> Self {
        Self {
            all: Vec::new(),
            scrollers: 0,
            within: None,
            moved: Vector::ZERO,
            shown: Rectangle::new(Point::ORIGIN, window),
            entering: None,
            buttons: 0,
            focus: None,
        }
    }

    fn put(&mut self, text: Option<&str>, bounds: Rectangle) {
        let bounds = bounds - self.moved;
        let Some(seen) = bounds.intersection(&self.shown) else {
            if self.within.is_none() {
                let text = text.map(str::to_owned);
                let seen = Rectangle { width: 0.0, height: 0.0, ..bounds };
                self.all.push(Laid { text, bounds, seen, within: None });
            }
            return;
        };
        let (text, within) = (text.map(str::to_owned), self.within);
        self.all.push(Laid { text, bounds, seen, within });
    }
}

impl Operation for Looking {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation)) {
        let outer = (self.within, self.moved, self.shown);
        if let Some((number, moved, shown)) = self.entering.take() {
            (self.within, self.moved, self.shown) = (Some(number), self.moved + moved, shown);
        }
        operate(self);
        (self.within, self.moved, self.shown) = outer;
    }

    fn scrollable(
        &mut self,
        _: Option<&Id>,
        bounds: Rectangle,
        _: Rectangle,
        moved: Vector,
        _: &mut dyn Scrollable,
    ) {
        let shown = (bounds - self.moved).intersection(&self.shown).unwrap_or_default();
        self.entering = Some((self.scrollers, moved, shown));
        self.scrollers += 1;
    }

    fn focusable(&mut self, _: Option<&Id>, bounds: Rectangle, state: &mut dyn Focusable) {
        if state.is_focused() {
            self.focus = Some(self.buttons);
        }
        self.buttons += 1;
        self.put(None, bounds);
    }

    fn text(&mut self, _: Option<&Id>, bounds: Rectangle, text: &str) {
        if !text.trim().is_empty() {
            self.put(Some(text), bounds);
        }
    }

    fn container(&mut self, id: Option<&Id>, _: Rectangle) {
        // What lies under a dialogue is neither read nor pressed.
        if is_fence(id) {
            self.all.clear();
            (self.buttons, self.focus) = (0, None);
        }
    }
}
