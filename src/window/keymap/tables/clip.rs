//! The clip screen: its commands by who else has them, and their keys.

use iced::keyboard::key::Named;

use crate::window::{
    keymap::{
        binding::{Binding, Cap, Command, Group, Held, Line, bind, ctrl, named, sign, with},
        names::line_in,
    },
    write::moments::Moment,
};

use super::points::{self, PointCommand};
use ClipCommand as C;
use Group::{Clip, Paper, Picture, Program, Routine};
use Held::{Ctrl, CtrlShift, Shift};

/// What every screen has; the program itself does it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Everywhere {
    /// Wears the next look.
    NextLook,
    /// Shows everything larger, smaller, or as usual (0).
    TextSize(i8),
}

/// Going through a clip, or through two side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Going {
    /// Moves by so many frames.
    Step(i64),
    /// Moves by so many seconds of the clip.
    Seconds(i64),
    /// Shows the first frame.
    First,
    /// Shows the last frame.
    Last,
    /// Plays, or stops playing.
    Play,
    /// Plays from now on at one `n`th of real speed.
    Speed(u8),
    /// Goes to the next mark in time.
    NextMark,
    /// Goes to the mark before in time.
    MarkBefore,
    /// Opens the next routine of the clip, or the one before.
    TurnRoutine(i8),
    /// Opens another clip.
    Open,
}

/// Which way through the clip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Heading {
    /// To its end.
    On,
    /// To its beginning.
    Back,
}

/// Looking at the picture, also while points are placed and of two clips.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// Shows the picture larger.
    ZoomIn,
    /// Shows the picture smaller.
    ZoomOut,
    /// Shows the whole picture.
    Fit,
    /// Shows one pixel of the picture as one pixel of the screen.
    OneToOne,
    /// Moves the picture by eighths of the space it has: right, down.
    Pan(i8, i8),
}

/// What means the same while points are placed, or nearly so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Steady {
    /// Shows or hides the angle that a rule asks for.
    Asked,
    /// Undoes the last change.
    Undo,
    /// Does the last change undone again.
    Redo,
    /// Writes the marks file now.
    Save,
    /// Answers what a rule asks of the chosen element: it is met.
    CallMet,
    /// The same: it is not met.
    CallNotMet,
    /// The same: it cannot be told.
    CallCantTell,
    /// Shows or hides the help sheet.
    Help,
    /// Closes what is open, or gives up what is chosen.
    Leave,
}

/// What is done on the clip's own screen alone, and not while points are placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Work {
    /// Goes to the next frame where the movement turns, or to the one before.
    Turn(Heading),
    /// Asks for a time or a frame's number, and goes there.
    Jump,
    /// Plays from the mark before to the mark after, over and over.
    Loop,
    /// Shows a second clip beside this one.
    LayBeside,
    /// Opens the planes of known size.
    Planes,
    /// Turns a wrongly tagged picture by a quarter, clockwise.
    TurnPicture,
    /// Swaps left and right of a wrongly tagged picture.
    MirrorPicture,
    /// Puts one of the commonest moments at the frame on screen.
    Put(Moment),
    /// Begins to write.
    Write,
    /// Chooses the next line of the paper.
    NextLine,
    /// Chooses the line of the paper before.
    LineBefore,
    /// Writes the chosen line anew.
    EditLine,
    /// Moves what is chosen to the frame on screen.
    MoveHere,
    /// Hangs what is chosen under the element after, or before.
    Hang(i8),
    /// Says of the chosen mark that it was seen, did not happen, cannot be told, is not visible.
    TurnSeen,
    /// Takes away what is chosen.
    Remove,
    /// Begins to place the points of an angle.
    Measure,
    /// Opens the routine's header.
    Header,
    /// The routine begins at the frame on screen.
    BeginsHere,
    /// The routine ends at the frame on screen.
    EndsHere,
    /// Leaves the clip for what was there before it.
    Back,
    /// Shows what is noted of the clip: consent, and when it is deleted.
    Record,
    /// Cuts a part of the clip out as a clip of its own.
    CutOut,
    /// Hands over a still of what is on screen, or a replay that stops there.
    HandOver,
    /// Asks what the routine was given at the meet.
    Meet,
    /// Lists the routines of the clip.
    Routines,
    /// Begins another routine of the clip.
    NewRoutine,
    /// Shows the judge's card of the routine's event and division.
    Card,
    /// Shows the elements of the event.
    Chart,
    /// Goes through the instants that the rules of this event look at.
    Walk,
    /// Lists what was set aside of the marks.
    Aside,
    /// Does what a message about something that went wrong offers, by its place.
    Remedy(u8),
}

/// Everything that a key or a button of the clip screen asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ClipCommand {
    /// What every screen has.
    Everywhere(Everywhere),
    /// Going through the clip.
    Going(Going),
    /// Looking at the picture.
    View(View),
    /// What means the same while points are placed.
    Steady(Steady),
    /// What is done here alone.
    Work(Work),
    /// Placing points.
    Points(PointCommand),
}

impl Command for ClipCommand {
    fn line(self) -> Option<Line> {
        match self {
            Self::Points(command) => line_in(points::KEYS, &command),
            _ => line_in(KEYS, &self),
        }
    }
}

impl Command for Everywhere {
    fn line(self) -> Option<Line> {
        ClipCommand::Everywhere(self).line()
    }
}

const fn moment(letter: char, moment: Moment) -> Binding<ClipCommand> {
    sign(letter, ClipCommand::Work(Work::Put(moment)), Group::Moments, moment.says())
}

impl ClipCommand {
    /// Returns whether a key may ask for it while points are placed: nothing of the paper may
    /// happen by accident meanwhile.
    pub(crate) const fn stays(self) -> bool {
        match self {
            Self::Everywhere(_) | Self::View(_) | Self::Steady(_) | Self::Points(_) => true,
            Self::Going(_) | Self::Work(_) => false,
        }
    }
}

/// Every key of the clip screen.
pub(crate) const KEYS: &[Binding<ClipCommand>] = &[
    named(Named::ArrowRight, C::Going(Going::Step(1)), Clip, "next frame").again(),
    named(Named::ArrowLeft, C::Going(Going::Step(-1)), Clip, "frame before").again(),
    with(Shift, Named::ArrowRight, C::Going(Going::Step(10)), Clip, "ten frames on").again(),
    with(Shift, Named::ArrowLeft, C::Going(Going::Step(-10)), Clip, "ten frames back").again(),
    with(CtrlShift, Named::ArrowRight, C::Going(Going::Seconds(1)), Clip, "one second on").again(),
    with(CtrlShift, Named::ArrowLeft, C::Going(Going::Seconds(-1)), Clip, "one second back")
        .again(),
    sign('>', C::Work(Work::Turn(Heading::On)), Clip, "on to where the movement turns").again(),
    sign('<', C::Work(Work::Turn(Heading::Back)), Clip, "back to where it turned").again(),
    ctrl('g', C::Work(Work::Jump), Clip, "go to a time or a frame"),
    named(Named::Home, C::Going(Going::First), Clip, "first frame"),
    named(Named::End, C::Going(Going::Last), Clip, "last frame"),
    named(Named::Space, C::Going(Going::Play), Clip, "play, stop"),
    sign('1', C::Going(Going::Speed(1)), Clip, "real speed"),
    sign('2', C::Going(Going::Speed(2)), Clip, "half speed"),
    sign('4', C::Going(Going::Speed(4)), Clip, "quarter speed"),
    sign('8', C::Going(Going::Speed(8)), Clip, "eighth of the speed"),
    sign(
        'o',
        C::Work(Work::Loop),
        Clip,
        "play from the mark before to the mark after, over and over",
    ),
    named(Named::PageDown, C::Going(Going::NextMark), Clip, "next mark").again(),
    named(Named::PageUp, C::Going(Going::MarkBefore), Clip, "mark before").again(),
    sign('+', C::View(View::ZoomIn), Picture, "larger (also the wheel, or two fingers)").again(),
    sign('=', C::View(View::ZoomIn), Picture, "larger").again(),
    sign('-', C::View(View::ZoomOut), Picture, "smaller").again(),
    sign('0', C::View(View::Fit), Picture, "the whole picture"),
    sign('9', C::View(View::OneToOne), Picture, "one pixel to one pixel"),
    with(Ctrl, Named::ArrowRight, C::View(View::Pan(1, 0)), Picture, "look further right").again(),
    with(Ctrl, Named::ArrowLeft, C::View(View::Pan(-1, 0)), Picture, "look further left").again(),
    with(Ctrl, Named::ArrowDown, C::View(View::Pan(0, 1)), Picture, "look further down").again(),
    with(Ctrl, Named::ArrowUp, C::View(View::Pan(0, -1)), Picture, "look further up").again(),
    sign('w', C::Work(Work::Planes), Picture, "planes of known size: place one, take one over"),
    sign('g', C::Steady(Steady::Asked), Picture, "show the angle that is asked for"),
    sign('q', C::Work(Work::TurnPicture), Picture, "turn a picture that lies on its side"),
    sign(
        'x',
        C::Work(Work::MirrorPicture),
        Picture,
        "mirror a picture that is the wrong way round",
    ),
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
    named(Named::Enter, C::Work(Work::Write), Paper, "write what you see"),
    sign('/', C::Work(Work::Write), Paper, "write what you see"),
    named(Named::ArrowDown, C::Work(Work::NextLine), Paper, "next line").again(),
    named(Named::ArrowUp, C::Work(Work::LineBefore), Paper, "line before").again(),
    named(Named::F2, C::Work(Work::EditLine), Paper, "write the chosen line anew"),
    sign('m', C::Work(Work::MoveHere), Paper, "move the chosen line to this frame"),
    with(Shift, Named::ArrowUp, C::Work(Work::Hang(-1)), Paper, "attach it to the element before"),
    with(
        Shift,
        Named::ArrowDown,
        C::Work(Work::Hang(1)),
        Paper,
        "attach it to the element after (or drag it)",
    ),
    sign('v', C::Work(Work::TurnSeen), Paper, "seen, did not happen, can't tell, not visible"),
    named(Named::Delete, C::Work(Work::Remove), Paper, "remove the chosen line"),
    named(Named::Backspace, C::Work(Work::Remove), Paper, "remove the chosen line"),
    sign('y', C::Steady(Steady::CallMet), Paper, "what is asked is met"),
    sign('n', C::Steady(Steady::CallNotMet), Paper, "it is not met"),
    sign('u', C::Steady(Steady::CallCantTell), Paper, "unsure: can't tell"),
    sign('a', C::Work(Work::Measure), Paper, "place the points of the angle that is asked for"),
    ctrl('z', C::Steady(Steady::Undo), Paper, "undo").again(),
    bind(CtrlShift, Cap::Writes('z'), C::Steady(Steady::Redo), Paper, "do again").again(),
    ctrl('y', C::Steady(Steady::Redo), Paper, "do again").again(),
    ctrl('r', C::Work(Work::Header), Routine, "what is judged: event, division, codes"),
    sign('[', C::Work(Work::BeginsHere), Routine, "the routine begins at this frame"),
    sign(']', C::Work(Work::EndsHere), Routine, "the routine ends at this frame"),
    ctrl('l', C::Work(Work::Routines), Routine, "the routines of this clip"),
    ctrl('n', C::Work(Work::NewRoutine), Routine, "another routine of this clip"),
    with(
        Ctrl,
        Named::PageDown,
        C::Going(Going::TurnRoutine(1)),
        Routine,
        "next routine of this clip",
    ),
    with(
        Ctrl,
        Named::PageUp,
        C::Going(Going::TurnRoutine(-1)),
        Routine,
        "routine of this clip before",
    ),
    ctrl('b', C::Work(Work::LayBeside), Clip, "a second clip beside this one"),
    ctrl('e', C::Work(Work::Record), Routine, "who is filmed, consent, when the clip is deleted"),
    ctrl('x', C::Work(Work::CutOut), Routine, "cut a part out as a clip of its own"),
    ctrl('h', C::Work(Work::HandOver), Routine, "hand over: a still or a replay"),
    ctrl('m', C::Work(Work::Meet), Routine, "what the routine was given at the meet"),
    sign('k', C::Work(Work::Card), Routine, "the judge's card: what the book says here"),
    sign('e', C::Work(Work::Chart), Routine, "the elements of this event"),
    sign('i', C::Work(Work::Walk), Routine, "guide: what to look for, one thing after the other"),
    sign('j', C::Work(Work::Aside), Group::Aside, "list what was set aside"),
    ctrl('s', C::Steady(Steady::Save), Program, "save now (it also saves by itself)"),
    ctrl('1', C::Work(Work::Remedy(0)), Program, "the first thing that a message offers"),
    ctrl('2', C::Work(Work::Remedy(1)), Program, "the second"),
    ctrl('o', C::Going(Going::Open), Program, "open a clip"),
    with(Ctrl, Named::Backspace, C::Work(Work::Back), Program, "back to the library or the start"),
    ctrl('t', C::Everywhere(Everywhere::NextLook), Program, "light, dark, high contrast"),
    ctrl('+', C::Everywhere(Everywhere::TextSize(1)), Program, "everything larger").again(),
    ctrl('=', C::Everywhere(Everywhere::TextSize(1)), Program, "everything larger").again(),
    ctrl('-', C::Everywhere(Everywhere::TextSize(-1)), Program, "everything smaller").again(),
    ctrl('0', C::Everywhere(Everywhere::TextSize(0)), Program, "the usual size").again(),
    sign('?', C::Steady(Steady::Help), Program, "find a command by its name"),
    named(Named::F1, C::Steady(Steady::Help), Program, "find a command by its name"),
    named(Named::Escape, C::Steady(Steady::Leave), Program, "close, let go; then one step back"),
];
