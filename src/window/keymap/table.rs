//! The table itself: every key of every screen.

use iced::keyboard::key::Named;

use crate::window::write::moments::Moment;

use super::{Binding, Cap, Command, Group, Held};

use Group::{Clip, Library, Pair, Paper, Picture, Points, Practice, Program, Routine, Start};
use Held::{Ctrl, CtrlShift, Nothing, Shift};

const fn bind(held: Held, cap: Cap, command: Command, group: Group, says: &'static str) -> Binding {
    Binding { held, cap, command, group, says }
}

const fn named(named: Named, command: Command, group: Group, says: &'static str) -> Binding {
    bind(Nothing, Cap::Named(named), command, group, says)
}

const fn sign(sign: char, command: Command, group: Group, says: &'static str) -> Binding {
    bind(Nothing, Cap::Writes(sign), command, group, says)
}

const fn ctrl(letter: char, command: Command, group: Group, says: &'static str) -> Binding {
    bind(Ctrl, Cap::Writes(letter), command, group, says)
}

const fn with(
    held: Held,
    key: Named,
    command: Command,
    group: Group,
    says: &'static str,
) -> Binding {
    bind(held, Cap::Named(key), command, group, says)
}

const fn moment(letter: char, moment: Moment) -> Binding {
    sign(letter, Command::Put(moment), Group::Moments, moment.says())
}

/// What keys do on the start screen; everything else is written into the path.
pub(crate) const START_KEYS: &[Binding] = &[
    ctrl('d', Command::Demo, Start, "sample clips"),
    ctrl('e', Command::TrainEye, Start, "train the eye on drawn figures"),
    ctrl('l', Command::Library, Start, "the library: a wall of clips"),
];

/// What keys do on the wall of clips; everything else is written into the search.
pub(crate) const LIBRARY_KEYS: &[Binding] = &[
    named(Named::Enter, Command::GoOn, Library, "search; open the chosen clip"),
    named(Named::Tab, Command::Complete, Library, "complete the word"),
    named(Named::ArrowDown, Command::Tile(0, 1), Library, "choose a clip; the row below"),
    named(Named::ArrowUp, Command::Tile(0, -1), Library, "the row above; back to the search"),
    named(Named::ArrowRight, Command::Tile(1, 0), Library, "next clip"),
    named(Named::ArrowLeft, Command::Tile(-1, 0), Library, "clip before"),
    ctrl('o', Command::AddFolder, Library, "take a folder in"),
    named(Named::F5, Command::LookAgain, Library, "look through the folders again"),
    ctrl('s', Command::SaveSearch, Library, "keep the search under a name"),
    ctrl('m', Command::MakeSet, Library, "make a set of all that is found"),
    ctrl('g', Command::Assign, Library, "fill in event, division, day for all that is found"),
    ctrl('j', Command::Judges, Library, "the judges of the chosen routine side by side"),
    named(Named::Escape, Command::Leave, Library, "stop looking; leave"),
];

/// Every key of the clip screen.
pub(crate) const KEYMAP: &[Binding] = &[
    named(Named::ArrowRight, Command::Step(1), Clip, "next frame"),
    named(Named::ArrowLeft, Command::Step(-1), Clip, "frame before"),
    with(Shift, Named::ArrowRight, Command::Step(10), Clip, "ten frames on"),
    with(Shift, Named::ArrowLeft, Command::Step(-10), Clip, "ten frames back"),
    named(Named::Home, Command::First, Clip, "first frame"),
    named(Named::End, Command::Last, Clip, "last frame"),
    named(Named::Space, Command::Play, Clip, "play, stop"),
    sign('1', Command::Speed(1), Clip, "real speed"),
    sign('2', Command::Speed(2), Clip, "half speed"),
    sign('4', Command::Speed(4), Clip, "quarter speed"),
    sign('8', Command::Speed(8), Clip, "eighth of the speed"),
    sign('o', Command::Loop, Clip, "play from the mark before to the mark after, over and over"),
    named(Named::PageDown, Command::NextMark, Clip, "next mark"),
    named(Named::PageUp, Command::MarkBefore, Clip, "mark before"),
    sign('+', Command::ZoomIn, Picture, "larger (also the wheel, or two fingers)"),
    sign('=', Command::ZoomIn, Picture, "larger"),
    sign('-', Command::ZoomOut, Picture, "smaller"),
    sign('0', Command::Fit, Picture, "the whole picture"),
    sign('9', Command::OneToOne, Picture, "one pixel to one pixel"),
    with(Ctrl, Named::ArrowRight, Command::Pan(1, 0), Picture, "look further right"),
    with(Ctrl, Named::ArrowLeft, Command::Pan(-1, 0), Picture, "look further left"),
    with(Ctrl, Named::ArrowDown, Command::Pan(0, 1), Picture, "look further down"),
    with(Ctrl, Named::ArrowUp, Command::Pan(0, -1), Picture, "look further up"),
    sign('w', Command::Planes, Picture, "planes of known size: place one, take one over"),
    sign('g', Command::Asked, Picture, "show the angle that is asked for"),
    sign('q', Command::TurnPicture, Picture, "turn a picture that lies on its side"),
    sign('x', Command::MirrorPicture, Picture, "mirror a picture that is the wrong way round"),
    moment('s', Moment::Swing),
    moment('c', Moment::Contact),
    moment('r', Moment::Release),
    moment('h', Moment::HeelLift),
    moment('d', Moment::HeelDrop),
    moment('l', Moment::Landing),
    moment('b', Moment::Brush),
    moment('f', Moment::Fall),
    moment('p', Moment::Spot),
    moment('t', Moment::Stop),
    named(Named::Enter, Command::Write, Paper, "write what you see"),
    sign('/', Command::Write, Paper, "write what you see"),
    named(Named::ArrowDown, Command::NextLine, Paper, "next line"),
    named(Named::ArrowUp, Command::LineBefore, Paper, "line before"),
    named(Named::F2, Command::EditLine, Paper, "write the chosen line anew"),
    sign('m', Command::MoveHere, Paper, "move the chosen line to this frame"),
    with(Shift, Named::ArrowUp, Command::Hang(-1), Paper, "hang it under the element before"),
    with(Shift, Named::ArrowDown, Command::Hang(1), Paper, "under the element after (or drag it)"),
    sign('v', Command::TurnSeen, Paper, "seen, did not happen, can't tell, not visible"),
    named(Named::Delete, Command::Remove, Paper, "remove the chosen line"),
    named(Named::Backspace, Command::Remove, Paper, "remove the chosen line"),
    sign('y', Command::CallMet, Paper, "what is asked is met"),
    sign('n', Command::CallNotMet, Paper, "it is not met"),
    sign('u', Command::CallCantTell, Paper, "unsure: can't tell"),
    sign('a', Command::Measure, Paper, "place the points of the angle that is asked for"),
    ctrl('z', Command::Undo, Paper, "undo"),
    bind(CtrlShift, Cap::Writes('z'), Command::Redo, Paper, "do again"),
    ctrl('y', Command::Redo, Paper, "do again"),
    ctrl('r', Command::Header, Routine, "what is judged: event, division, codes"),
    sign('[', Command::BeginsHere, Routine, "the routine begins at this frame"),
    sign(']', Command::EndsHere, Routine, "the routine ends at this frame"),
    ctrl('l', Command::Routines, Routine, "the routines of this clip"),
    ctrl('n', Command::NewRoutine, Routine, "another routine of this clip"),
    with(Ctrl, Named::PageDown, Command::TurnRoutine(1), Routine, "next routine of this clip"),
    with(Ctrl, Named::PageUp, Command::TurnRoutine(-1), Routine, "routine of this clip before"),
    ctrl('b', Command::LayBeside, Clip, "a second clip beside this one"),
    sign('k', Command::Card, Routine, "the judge's card: what the book says here"),
    sign('e', Command::Chart, Routine, "the elements of this event"),
    sign('i', Command::Walk, Routine, "guide: what to look for, one thing after the other"),
    ctrl('s', Command::Save, Program, "save now (it also saves by itself)"),
    ctrl('1', Command::Remedy(0), Program, "the first thing that a message offers"),
    ctrl('2', Command::Remedy(1), Program, "the second"),
    ctrl('o', Command::Open, Program, "open a clip"),
    ctrl('t', Command::NextLook, Program, "light, dark, high contrast"),
    ctrl('+', Command::TextSize(1), Program, "everything larger"),
    ctrl('=', Command::TextSize(1), Program, "everything larger"),
    ctrl('-', Command::TextSize(-1), Program, "everything smaller"),
    ctrl('0', Command::TextSize(0), Program, "the usual size"),
    sign('?', Command::Help, Program, "this sheet"),
    named(Named::F1, Command::Help, Program, "this sheet"),
    named(Named::Escape, Command::Leave, Program, "close, let go"),
];

/// What keys do while points are placed; what is not here is as always, where it fits.
pub(crate) const POINT_KEYS: &[Binding] = &[
    with(Nothing, Named::ArrowRight, Command::Nudge(10, 0), Points, "a pixel right"),
    with(Nothing, Named::ArrowLeft, Command::Nudge(-10, 0), Points, "a pixel left"),
    with(Nothing, Named::ArrowDown, Command::Nudge(0, 10), Points, "a pixel down"),
    with(Nothing, Named::ArrowUp, Command::Nudge(0, -10), Points, "a pixel up"),
    with(Shift, Named::ArrowRight, Command::Nudge(1, 0), Points, "a tenth right"),
    with(Shift, Named::ArrowLeft, Command::Nudge(-1, 0), Points, "a tenth left"),
    with(Shift, Named::ArrowDown, Command::Nudge(0, 1), Points, "a tenth down"),
    with(Shift, Named::ArrowUp, Command::Nudge(0, -1), Points, "a tenth up"),
    with(Ctrl, Named::ArrowRight, Command::Nudge(200, 0), Points, "twenty right"),
    with(Ctrl, Named::ArrowLeft, Command::Nudge(-200, 0), Points, "twenty left"),
    with(Ctrl, Named::ArrowDown, Command::Nudge(0, 200), Points, "twenty down"),
    with(Ctrl, Named::ArrowUp, Command::Nudge(0, -200), Points, "twenty up"),
    named(Named::Space, Command::PutPoint, Points, "put the point in the middle (or click)"),
    named(Named::Backspace, Command::TakeBack, Points, "take the last point back"),
    named(Named::Delete, Command::TakeBack, Points, "take the last point back"),
    named(Named::Enter, Command::Keep, Points, "keep it"),
    named(Named::Tab, Command::Skip, Points, "cannot be seen: pass over it"),
    sign(',', Command::Step(-1), Points, "frame before"),
    sign('.', Command::Step(1), Points, "next frame"),
    sign('r', Command::Again, Points, "place every point again"),
    sign('k', Command::Bent, Points, "the leg is bent: the knee, not the ankle"),
    sign('l', Command::Line, Points, "click an upright or a level edge"),
    sign(
        'o',
        Command::OffSquare,
        Points,
        "how far off square the camera is, or how far a length lies",
    ),
    sign('w', Command::NextPlane, Points, "measure in the next plane, or in none"),
    bind(Shift, Cap::Writes('w'), Command::Planes, Points, "place another plane"),
    sign('1', Command::HalfTurns(1), Points, "about half a turn"),
    sign('2', Command::HalfTurns(2), Points, "about a whole turn"),
    sign('3', Command::HalfTurns(3), Points, "about one and a half"),
    sign('4', Command::HalfTurns(4), Points, "about two"),
    sign('5', Command::HalfTurns(5), Points, "about two and a half"),
    sign('6', Command::HalfTurns(6), Points, "about three"),
];

/// What keys do while two clips lie side by side; stepping, marks, playing and looking are as always.
pub(crate) const PAIR_KEYS: &[Binding] = &[
    sign('t', Command::Tie, Pair, "tie them at these frames; untie them"),
    named(Named::Tab, Command::OtherSide, Pair, "the other clip leads"),
    named(Named::Enter, Command::Alone, Pair, "this clip alone"),
    named(Named::Escape, Command::Leave, Pair, "back to the first clip"),
];

/// What keys do in a sitting and while the eye is trained; everything else is written.
pub(crate) const SITTING_KEYS: &[Binding] = &[
    named(Named::Enter, Command::GoOn, Practice, "look; next answer; go on"),
    named(Named::Tab, Command::TurnAnswer(1), Practice, "next answer"),
    named(Named::ArrowDown, Command::TurnAnswer(1), Practice, "next answer"),
    with(Shift, Named::Tab, Command::TurnAnswer(-1), Practice, "answer before"),
    named(Named::ArrowUp, Command::TurnAnswer(-1), Practice, "answer before"),
    with(Ctrl, Named::Enter, Command::HandIn, Practice, "hand the answers in"),
    named(Named::Escape, Command::Leave, Practice, "leave; what is handed in stays"),
];
