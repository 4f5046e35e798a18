//! Placing the points of an angle on the clip screen.

use std::time::{Duration, Instant};

use super::{Action, Clip, Key};
use crate::{
    figure::{self, Form, Ink, Said, Shape},
    geometry::input::Travel,
    marks::{
        At, Edit, How, Id, Item, Quantity, Reading, Sheaf, Step, What, measure_input, measured,
        placing::{self, Ask},
    },
    units::{Degrees, FrameRef},
    window::{
        frame::Pointer,
        keymap::{self, Command},
        points::{Measuring, Overlay, Rule},
    },
};

/// How far off square a camera may be said to stand, in degrees.
const OFF_SQUARE: [f64; 6] = [0.0, 10.0, 20.0, 30.0, 40.0, 50.0];

/// A click and a key of one batch of events come to the window in this order whichever was first,
/// no further apart than this.
const TOGETHER: Duration = Duration::from_millis(30);

impl Clip {
    /// Begins to place points for what the chosen line asks, or goes on where it was left.
    pub(super) fn begin_to_measure(&mut self) -> Action {
        self.stop();
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
        self.measuring = Some(Measuring::begin(reading, name, rules, sheaf));
        let click = self.early_click.take().filter(|click| click.1.elapsed() < TOGETHER);
        let shown = self.frame;
        if let Some(frame) = moment {
            self.go_to(frame.index);
        }
        match click {
            Some((at, _)) if self.frame == shown => self.put_point(at),
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
        let (value, u, points) = (Degrees(0.0), Degrees(0.0), Vec::new());
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
        let here = self.stage.frame_ref(self.frame);
        let marks = self.session.sheaf().map(Sheaf::in_order).unwrap_or_default();
        let of_element = |it: &&&crate::marks::Mark| self.session.element_of(it.id) == Some(of);
        let frame_of = |what: &What, after: Option<FrameRef>| {
            let later = |it: &&&crate::marks::Mark| {
                let frame = it.at.frame();
                after.is_none_or(|after| frame.is_some_and(|it| it.order() > after.order()))
            };
            let found = marks.iter().filter(later).filter(of_element).find(|it| it.what == *what);
            found.and_then(|it| it.at.frame().copied())
        };
        match quantity {
            Quantity::Turn => match frame_of(&What::HeelLift, None) {
                Some(lift) => At::Span(lift, frame_of(&What::HeelDrop, Some(lift)).unwrap_or(lift)),
                None => At::Span(here, here),
            },
            Quantity::Repulsion => {
                let release = marks.iter().find(|it| it.what == What::HandRelease);
                At::Frame(release.and_then(|it| it.at.frame().copied()).unwrap_or(here))
            }
            _ => At::Frame(here),
        }
    }

    /// How the picture is tied to the world unless somebody says otherwise: as for the reading
    /// before, else by a plane that lies as the quantity needs it.
    fn usual_how(&self, quantity: Quantity) -> How {
        let lies = quantity.lies();
        let planes = self.session.sheaf().map(|sheaf| sheaf.planes.as_slice()).unwrap_or_default();
        let plane = planes.iter().find(|plane| plane.lies == lies && plane.is_clicked());
        How { plane: plane.map(|plane| plane.name.clone()), ..How::default() }
    }

    /// Does what a command means while points are placed; nothing where it means what it always
    /// does.
    pub(super) fn command_while_placing(&mut self, command: Command) -> Option<Action> {
        if self.planing.is_some() {
            return self.command_on_plane(command);
        }
        self.measuring.as_ref()?;
        Some(match command {
            Command::Nudge(right, down) => self.nudge([right, down]),
            Command::PutPoint => self.put_point(self.middle_in_sight()),
            Command::TakeBack => self.take_back(),
            Command::Keep => self.keep(),
            Command::Skip => self.skip(),
            Command::Again => self.place_again(),
            Command::Bent => self.bend(),
            Command::Line => self.ask_for_line(),
            Command::NextPlane => self.next_plane(),
            Command::OffSquare => self.next_off_square(),
            Command::HalfTurns(n) => self.half_turns(n),
            Command::Leave => self.leave_points(),
            Command::Undo if !self.has_placed() => Action::None,
            Command::Undo | Command::Redo => {
                let step = if command == Command::Undo { Step::Undo } else { Step::Redo };
                self.take_and_follow(step)
            }
            _ => return None,
        })
    }

    /// Undo goes back to the first point and no further, so that it never changes what is not in
    /// sight.
    fn has_placed(&self) -> bool {
        let id = self.measuring.as_ref().map(|measuring| measuring.reading.id);
        id.and_then(|id| self.session.sheaf()?.unfinished(id)).is_some()
    }

    /// Does what the pointer did on the picture.
    pub(super) fn pointed(&mut self, pointer: Pointer) -> Action {
        let upright = self.stage.upright(self.turn());
        let frame = self.stage.frame_ref(self.frame);
        if self.planing.is_some() {
            return self.pointed_at_plane(pointer);
        }
        let Some(measuring) = &mut self.measuring else {
            if let Pointer::Clicked(at) = pointer {
                self.early_click = Some((at, Instant::now()));
            }
            return Action::None;
        };
        measuring.look = Some(pointer.at());
        let handles = measuring.in_sight(&frame, &upright);
        match pointer {
            Pointer::At(_) => Action::None,
            Pointer::Held(handle, at) => {
                measuring.held = handles.get(handle).map(|handle| (handle.0, at));
                Action::None
            }
            Pointer::LetGo(_, at) => {
                let Some((point, _)) = measuring.held.take() else { return Action::None };
                measuring.chosen = Some(point);
                let after = placing::moved(&measuring.reading, point, upright.to_coded(at));
                self.store(after)
            }
            Pointer::Clicked(at) => self.put_point(at),
        }
    }

    /// Puts what is asked for at a place of the upright picture.
    fn put_point(&mut self, at: [f64; 2]) -> Action {
        let upright = self.stage.upright(self.turn());
        let frame = self.stage.frame_ref(self.frame);
        // A click on nothing but the ground beside the picture places nothing.
        let [w, h] = upright.shown_size().map(f64::from);
        if !(0.0..w).contains(&at[0]) || !(0.0..h).contains(&at[1]) {
            return Action::None;
        }
        let Some(measuring) = &mut self.measuring else { return Action::None };
        measuring.look = Some(at);
        measuring.chosen = None;
        let coded = upright.to_coded(at);
        let after = placing::click(&measuring.reading, &mut measuring.aids, &frame, coded);
        if after == measuring.reading { Action::None } else { self.store(after) }
    }

    fn nudge(&mut self, tenths: [i16; 2]) -> Action {
        let upright = self.stage.upright(self.turn());
        let frame = self.stage.frame_ref(self.frame);
        let room = self.room();
        let Some(measuring) = &mut self.measuring else { return Action::None };
        let ask = measuring.ask(&frame);
        if matches!(ask, Ask::Travel | Ask::Rotation) && tenths[0] != 0 {
            let right = if tenths[0] > 0 { Travel::Right } else { Travel::Left };
            let after = placing::directed(&measuring.reading, &ask, right);
            return self.store(after);
        }
        let Some(point) = measuring.moves(&frame) else { return Action::None };
        let [x, y] = upright.to_shown(measuring.reading.points[point].coded);
        let [right, down] = tenths.map(|tenths| f64::from(tenths) / 10.0);
        let [w, h] = room.picture;
        let at = [(x + right).clamp(0.0, w), (y + down).clamp(0.0, h)];
        measuring.look = Some(at);
        measuring.chosen = Some(point);
        let after = placing::moved(&measuring.reading, point, upright.to_coded(at));
        self.viewport = self.viewport.showing(at, room);
        self.store(after)
    }

    fn take_back(&mut self) -> Action {
        let Some(measuring) = &mut self.measuring else { return Action::None };
        measuring.chosen = None;
        match placing::take_back(&measuring.reading, &mut measuring.aids) {
            Some(after) => self.store(after),
            None => Action::None,
        }
    }

    fn skip(&mut self) -> Action {
        let frame = self.stage.frame_ref(self.frame);
        let Some(measuring) = &mut self.measuring else { return Action::None };
        match measuring.ask(&frame) {
            Ask::Point(name) => measuring.aids.skipped.push((frame, name)),
            Ask::Line(_) => (measuring.aids.wants_line, measuring.aids.line) = (false, None),
            _ => {}
        }
        Action::None
    }

    fn place_again(&mut self) -> Action {
        let frame = self.stage.frame_ref(self.frame);
        if let Some(measuring) = &mut self.measuring
            && !matches!(measuring.ask(&frame), Ask::Point(_))
        {
            measuring.aids.again += 1;
        }
        Action::None
    }

    fn bend(&mut self) -> Action {
        let frame = self.stage.frame_ref(self.frame);
        if let Some(measuring) = &mut self.measuring
            && let Ask::Point(name) = measuring.ask(&frame)
        {
            measuring.aids.bent.push(name);
        }
        Action::None
    }

    fn ask_for_line(&mut self) -> Action {
        let Some(measuring) = &mut self.measuring else { return Action::None };
        measuring.aids.wants_line = true;
        let mut after = measuring.reading.clone();
        after.how.line = None;
        if after == measuring.reading { Action::None } else { self.store(after) }
    }

    fn next_plane(&mut self) -> Action {
        let (Some(measuring), Some(sheaf)) = (&self.measuring, self.session.sheaf()) else {
            return Action::None;
        };
        let names: Vec<&String> = sheaf.planes.iter().map(|plane| &plane.name).collect();
        if names.is_empty() {
            return self.open_planes();
        }
        let now = measuring.reading.how.plane.as_ref();
        let place = now.and_then(|now| names.iter().position(|name| *name == now));
        let next = place.map_or(Some(0), |place| Some(place + 1)).and_then(|next| names.get(next));
        self.measure_in(next.map(|name| (*name).clone()))
    }

    /// Ties what is measured to the world by a plane, or by none.
    pub(super) fn measure_in(&mut self, plane: Option<String>) -> Action {
        let Some(measuring) = &self.measuring else { return Action::None };
        let mut after = measuring.reading.clone();
        after.how.plane = plane;
        // A line that levelled the picture is no line of travel, and the other way round.
        after.how.line = None;
        self.store(after)
    }

    fn next_off_square(&mut self) -> Action {
        let Some(measuring) = &self.measuring else { return Action::None };
        let now = measuring.reading.how.off_square.unwrap_or(crate::marks::USUAL_OFF_SQUARE);
        let next = OFF_SQUARE.into_iter().find(|off| *off > now.0).unwrap_or(OFF_SQUARE[0]);
        let mut after = measuring.reading.clone();
        after.how.off_square = Some(Degrees(next));
        self.store(after)
    }

    fn half_turns(&mut self, n: u8) -> Action {
        let Some(measuring) = &self.measuring else { return Action::None };
        if measuring.reading.quantity != Quantity::Turn {
            return Action::None;
        }
        let after = placing::about(&measuring.reading, n);
        self.store(after)
    }

    /// Leaves with everything kept as it is, so that one can go on later.
    fn leave_points(&mut self) -> Action {
        self.measuring = None;
        Action::None
    }

    /// Returns what the button for measuring says: whether points wait to be gone on with.
    pub(super) fn measure_label(&self) -> String {
        let is_begun = self.session.sheaf().is_some_and(|sheaf| !sheaf.unfinished.is_empty());
        let says = if is_begun { "Go on measuring" } else { "Measure" };
        format!("{says} {}", keymap::key_of(Command::Measure))
    }

    /// Turns the unfinished reading into one that counts.
    fn keep(&mut self) -> Action {
        let (Some(measuring), Some(sheaf)) = (&self.measuring, self.session.sheaf()) else {
            return Action::None;
        };
        match measured(sheaf, &measuring.reading) {
            Err(refusal) => self.complain(&format!("It cannot be kept yet: {refusal}.")),
            Ok((reading, _)) => {
                let id = reading.id;
                let done = Edit::unfinished(sheaf, id, None);
                let kept = Edit::change(sheaf, Item::Reading(reading));
                self.measuring = None;
                self.take(Step::Do(Edit::Together(vec![done, kept])), Some(Key::Item(id)))
            }
        }
    }

    fn store(&mut self, after: Reading) -> Action {
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let edit = Edit::unfinished(sheaf, after.id, Some(after));
        self.take_and_follow(Step::Do(edit))
    }

    fn take_and_follow(&mut self, step: Step) -> Action {
        let action = self.take(step, self.chosen);
        if let (Some(measuring), Some(sheaf)) = (&mut self.measuring, self.session.sheaf()) {
            measuring.follow(sheaf);
        }
        let goal = match &self.measuring {
            Some(measuring) => measuring.ask(&self.stage.frame_ref(self.frame)),
            None => Ask::Nothing,
        };
        // Where it is known which frame comes next, it is shown.
        if let Ask::GoTo(Some(frame)) = goal {
            return self.go_to(frame.index);
        }
        action
    }

    pub(super) fn middle_in_sight(&self) -> [f64; 2] {
        let room = self.room();
        self.viewport.placement(room).to_picture(room.room.map(|side| side / 2.0))
    }

    /// Returns what is drawn over the picture.
    pub(super) fn overlay(&self) -> Overlay {
        let picture = self.room().picture;
        let shapes = if self.playback.is_some() { Vec::new() } else { self.shapes() };
        Overlay { shapes, viewport: self.viewport, picture, cross: None }
    }

    /// Returns the places that the pointer may take hold of; nothing unless points are placed.
    pub(super) fn handles(&self) -> Option<Vec<[f64; 2]>> {
        let upright = self.stage.upright(self.turn());
        if let Some(planing) = &self.planing {
            return Some(planing.in_sight(&upright).into_iter().map(|(_, at)| at).collect());
        }
        let measuring = self.measuring.as_ref()?;
        let frame = self.stage.frame_ref(self.frame);
        Some(measuring.in_sight(&frame, &upright).into_iter().map(|(_, at)| at).collect())
    }

    fn shapes(&self) -> Vec<Shape> {
        let Some(sheaf) = self.session.sheaf() else { return Vec::new() };
        if let Some(planing) = &self.planing {
            return planing.shapes(&self.stage.upright(self.turn()));
        }
        let frame = self.stage.frame_ref(self.frame);
        let own = self.measuring.as_ref();
        let others = sheaf.readings.iter().filter(|it| {
            own.is_none_or(|own| own.reading.id != it.id)
                && !it.points.is_empty()
                && !placing::on_frame(it, &frame).is_empty()
        });
        let mut shapes: Vec<Shape> = match own {
            Some(_) => Vec::new(),
            None => others.flat_map(|it| self.kept_shapes(sheaf, it, &frame)).collect(),
        };
        if let Some(own) = own {
            shapes.extend(self.own_shapes(sheaf, own, &frame));
        }
        shapes
    }

    fn kept_shapes(&self, sheaf: &Sheaf, reading: &Reading, frame: &FrameRef) -> Vec<Shape> {
        let rules = self.session.rules_for(reading.of, reading.quantity);
        let limit = rules.first().map(|rule| rule.limit);
        let said = Said {
            value: format!("{} ± {}", reading.value, reading.u).replace('-', "−"),
            verdict: limit.map(|it| reading.decide(it)),
            asked: limit.map(|it| it.edge).filter(|_| self.shows_asked),
        };
        drawn(sheaf, reading, frame, &said)
    }

    fn own_shapes(&self, sheaf: &Sheaf, own: &Measuring, frame: &FrameRef) -> Vec<Shape> {
        let upright = self.stage.upright(self.turn());
        let in_sight = own.in_sight(frame, &upright);
        let moves = own.moves(frame);
        let mut shapes = Vec::new();
        // The drawing would lead whoever places the points again.
        if !matches!(own.ask(frame), Ask::Point(_)) && own.held.is_none() {
            let said = Said {
                verdict: own.verdict(),
                asked: own.asked().filter(|_| self.shows_asked),
                value: String::new(),
            };
            shapes.extend(drawn(sheaf, &own.reading, frame, &said));
        }
        shapes.retain(|shape| !matches!(shape, Shape::Dot { .. }));
        shapes.extend(in_sight.into_iter().map(|(place, at)| Shape::Dot {
            at,
            ink: Ink::Body,
            form: if moves == Some(place) { Form::Chosen } else { Form::Ring },
        }));
        let line = own.reading.how.line.into_iter().flatten().chain(own.aids.line);
        shapes.extend(line.map(|coded| Shape::Dot {
            at: upright.to_shown(coded),
            ink: Ink::World,
            form: Form::Square,
        }));
        shapes
    }
}

fn drawn(sheaf: &Sheaf, reading: &Reading, frame: &FrameRef, said: &Said) -> Vec<Shape> {
    let Ok(input) = measure_input(sheaf, reading) else { return Vec::new() };
    let frames = placing::frames(reading);
    let look = frames.iter().position(|it| it.order() == frame.order()).unwrap_or(0);
    figure::reading(&input, look, said)
}
