//! Which angle is measured when somebody begins, of what and at which frames.

use std::{mem, time::Duration};

use crate::{
    geometry::ReadAt,
    marks::{At, How, Id, Item, Mark, Quantity, Reading, Sheaf, What},
    units::{FrameRef, Magnitude},
    window::{
        paper::Key,
        placing::{Measuring, Placing, Rule},
        screens::clip::{Action, Clip, mode::Mode},
    },
};

/// A click and a key of one batch of events come to the window in this order whichever was first,
/// no further apart than this.
const TOGETHER: Duration = Duration::from_millis(30);

impl Clip {
    /// Begins to place points for what the chosen line asks, or goes on where it was left.
    pub(crate) fn begin_to_measure(&mut self) -> Action {
        self.viewer.stop();
        if self.is_plane_placed() {
            // One after the other.
            return Action::None;
        }
        if !self.session.is_open() {
            return self.open_header();
        }
        self.session.catch_up();
        let Some((reading, rules)) = self.reading_to_place() else {
            return self.complain(
                "No rule asks for an angle here. Choose an element whose rule waits for one.",
            );
        };
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let name = self.session.name_of(reading.of);
        let moment = reading.at.frame().copied();
        let measuring = Measuring::begin(reading, name, rules, sheaf);
        let before = mem::replace(&mut self.mode, Mode::Placing(Placing::angle(measuring)));
        let click = match before {
            Mode::Looking { click } => click.filter(|click| click.1.elapsed() < TOGETHER),
            _ => None,
        };
        let shown = self.viewer.frame();
        if let Some(frame) = moment {
            self.go_to(frame.index);
        }
        match click {
            Some((at, _)) if self.viewer.frame() == shown => self.put_point(at),
            _ => Action::None,
        }
    }

    /// The chosen reading itself, or a new one for the first angle that is asked for and waits.
    fn reading_to_place(&mut self) -> Option<(Reading, Vec<Rule>)> {
        if let Some(Key::Item(id)) = self.chosen
            && let Some(Item::Reading(reading)) = self.session.sheaf()?.item(id)
        {
            let rules = self.session.rules_for(reading.of, reading.quantity);
            return Some((self.unfinished(reading.of, reading.quantity).unwrap_or(reading), rules));
        }
        let of = self.element_asked()?;
        let asked = self.asked();
        let quantity = match asked.first() {
            Some(asked) => asked.quantity,
            None => self.session.asked_of(of).first()?.quantity,
        };
        let rules = self.session.rules_for(of, quantity);
        if let Some(reading) = self.unfinished(of, quantity) {
            return Some((reading, rules));
        }
        let id = self.session.fresh_id()?;
        let at = self.moment_for(of, quantity);
        let how = self.usual_how(quantity);
        let (value, u, points) = (Magnitude(0.0), Magnitude(0.0), Vec::new());
        Some((Reading { id, of, quantity, value, u, at, points, how }, rules))
    }

    /// The element chosen or at hand; where there is none, the first that rules ask anything of: a
    /// vault is known by its moments alone.
    fn element_asked(&self) -> Option<Id> {
        let lines = || self.session.sheet().into_iter().flat_map(|sheet| &sheet.elements);
        let chosen = match self.chosen {
            Some(Key::Sheet(_, place)) => lines().nth(place).map(|line| line.mark),
            _ => self.element(),
        };
        let is_asked = |id: &Id| !self.session.asked_of(*id).is_empty();
        chosen.filter(is_asked).or_else(|| lines().map(|line| line.mark).find(is_asked))
    }

    fn unfinished(&self, of: Id, quantity: Quantity) -> Option<Reading> {
        let unfinished = &self.session.sheaf()?.unfinished;
        unfinished.iter().find(|it| it.of == of && it.quantity == quantity).cloned()
    }

    /// The frames a new reading is about, as far as moments that are marked tell.
    fn moment_for(&self, of: Id, quantity: Quantity) -> At {
        let here = self.viewer.stage().frame_ref(self.viewer.frame());
        let marks = self.session.sheaf().map(Sheaf::in_order).unwrap_or_default();
        let of_element = |it: &&&Mark| self.session.element_of(it.id) == Some(of);
        let frame_of = |what: &What, after: Option<FrameRef>| {
            let later = |it: &&&Mark| {
                let frame = it.at.frame();
                after.is_none_or(|after| frame.is_some_and(|it| it.order() > after.order()))
            };
            let found = marks.iter().filter(later).filter(of_element).find(|it| it.what == *what);
            found.and_then(|it| it.at.frame().copied())
        };
        match quantity.read_at() {
            ReadAt::LiftToDrop => match frame_of(&What::HeelLift, None) {
                Some(lift) => At::Span(lift, frame_of(&What::HeelDrop, Some(lift)).unwrap_or(lift)),
                None => At::Span(here, here),
            },
            ReadAt::HandRelease => {
                let release = marks.iter().find(|it| it.what == What::HandRelease);
                At::Frame(release.and_then(|it| it.at.frame().copied()).unwrap_or(here))
            }
            ReadAt::Frame | ReadAt::Peak | ReadAt::BothDown => At::Frame(here),
        }
    }

    /// How the picture is tied to the world unless somebody says otherwise: as for the reading
    /// before, else by a plane that lies as the quantity needs it.
    fn usual_how(&self, quantity: Quantity) -> How {
        if quantity.lies_across() {
            return self.clicked_as_known(quantity);
        }
        let fits = |lies| quantity.lies().is_none_or(|needed| needed == lies);
        let planes = self.session.sheaf().map(|sheaf| sheaf.planes.as_slice()).unwrap_or_default();
        let plane = planes.iter().find(|plane| fits(plane.lies) && plane.is_clicked());
        How { plane: plane.map(|plane| plane.name.clone()), ..self.clicked_as_known(quantity) }
    }
}
