//! One line of a table of keys: a key, what it asks for, and what the help sheet says.

use iced::keyboard::key::Named;

/// Something that a key asks for.
pub(crate) trait Command: Copy + PartialEq + 'static {
    /// Returns the line of its first key, where it has one.
    fn line(self) -> Option<Line>;
}

/// A line as people read it.
pub(crate) struct Line {
    /// The key's name.
    pub key: String,
    /// What it does.
    pub says: &'static str,
}

/// One line of a table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Binding<C> {
    /// What must be held.
    pub held: Held,
    /// The key.
    pub cap: Cap,
    /// What it asks for.
    pub command: C,
    /// Under which heading of the help sheet it stands.
    pub group: Group,
    /// What the help sheet says.
    pub says: &'static str,
    /// Whether it goes on and on while the key is held down: stepping may, putting down must not.
    pub repeats: bool,
}

impl<C: Copy> Binding<C> {
    /// Returns the line of a key that may be held down.
    pub(super) const fn again(self) -> Self {
        Self { repeats: true, ..self }
    }
}

/// Which keys beside the key itself are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Held {
    /// None.
    Nothing,
    /// Shift.
    Shift,
    /// Ctrl, or Command on a Mac.
    Ctrl,
    /// Both.
    CtrlShift,
}

/// A key as the table names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cap {
    /// A key with a name.
    Named(Named),
    /// A key that writes; a letter stands for the key, a sign for what is written.
    Writes(char),
}

/// A heading of the help sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Group {
    /// Choosing a clip.
    Start,
    /// The wall of clips.
    Library,
    /// Deleting and withdrawing.
    Erase,
    /// Judges of one routine side by side.
    Judges,
    /// Handing bundles out and taking them in.
    Hand,
    /// Going through the clip.
    Clip,
    /// Looking at the picture.
    Picture,
    /// The commonest moments.
    Moments,
    /// Writing, choosing, changing.
    Paper,
    /// While the points of an angle or plane are placed.
    Points,
    /// What is judged.
    Routine,
    /// What was set aside of the marks.
    Aside,
    /// Two clips side by side.
    Pair,
    /// Calling from one look.
    Practice,
    /// Everything else.
    Program,
}

impl Group {
    /// All headings in the order of the help sheet.
    pub(crate) const ALL: [Self; 15] = [
        Self::Start,
        Self::Library,
        Self::Erase,
        Self::Judges,
        Self::Hand,
        Self::Clip,
        Self::Picture,
        Self::Moments,
        Self::Paper,
        Self::Points,
        Self::Routine,
        Self::Aside,
        Self::Pair,
        Self::Practice,
        Self::Program,
    ];

    /// Returns the heading.
    pub(crate) const fn title(self) -> &'static str {
        match self {
            Self::Start => "The start screen",
            Self::Library => "The library",
            Self::Erase => "Deleting a clip, withdrawing an athlete",
            Self::Judges => "Judges side by side",
            Self::Hand => "Handing a bundle out, taking one in",
            Self::Clip => "Going through the clip",
            Self::Picture => "Looking at the picture",
            Self::Moments => "One key, one moment, at the frame on screen",
            Self::Paper => "The paper",
            Self::Points => "While points are placed",
            Self::Routine => "The routine",
            Self::Aside => "What was set aside of the marks",
            Self::Pair => "Two clips side by side",
            Self::Practice => "Practice: one look, and figures for the eye",
            Self::Program => "The program",
        }
    }
}

pub(super) const fn bind<C: Copy>(
    held: Held,
    cap: Cap,
    command: C,
    group: Group,
    says: &'static str,
) -> Binding<C> {
    Binding { held, cap, command, group, says, repeats: false }
}

pub(super) const fn named<C: Copy>(
    named: Named,
    command: C,
    group: Group,
    says: &'static str,
) -> Binding<C> {
    bind(Held::Nothing, Cap::Named(named), command, group, says)
}

pub(super) const fn sign<C: Copy>(
    sign: char,
    command: C,
    group: Group,
    says: &'static str,
) -> Binding<C> {
    bind(Held::Nothing, Cap::Writes(sign), command, group, says)
}

pub(super) const fn ctrl<C: Copy>(
    letter: char,
    command: C,
    group: Group,
    says: &'static str,
) -> Binding<C> {
    bind(Held::Ctrl, Cap::Writes(letter), command, group, says)
}

pub(super) const fn with<C: Copy>(
    held: Held,
    key: Named,
    command: C,
    group: Group,
    says: &'static str,
) -> Binding<C> {
    bind(held, Cap::Named(key), command, group, says)
}
