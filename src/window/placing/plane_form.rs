//! The form in which a plane is chosen: its kind and sizes, one placed before, or one of other
//! marks of the same camera.

use std::path::PathBuf;

use iced::{
    Alignment, Element, Length,
    keyboard::{Event, Key, key::Named},
    widget::{Column, column, container, row, scrollable, space},
};

use crate::{
    marks::{PlaneKind, ReferencePlane},
    window::{
        controls::button,
        theme::{self, Current, part, size, text},
        typing::{self, Line, Typed, Wish},
    },
};

/// What is filled in.
#[derive(Debug)]
pub(crate) struct PlaneForm {
    kind: PlaneKind,
    /// Sizes as they are written, in the order in which the kind asks for them.
    sizes: Vec<Line>,
    field: usize,
    /// Planes of these marks.
    own: Vec<ReferencePlane>,
    /// Planes of other marks, with the file they are in.
    others: Vec<(PathBuf, ReferencePlane)>,
    /// What is wrong.
    pub complaint: Option<String>,
}

/// What happened in the form.
#[derive(Clone, Debug)]
pub(crate) enum Message {
    /// Planes of other marks were looked for.
    OthersFound(Vec<(PathBuf, ReferencePlane)>),
    /// A kind was chosen.
    KindChosen(PlaneKind),
    /// The next kind, or the one before, was asked for.
    KindTurned(isize),
    /// Something was typed into the current field.
    Typed(Typed),
    /// A field was pointed at.
    FieldChosen(usize, Typed),
    /// The next field, or the one before, was asked for.
    FieldTurned(isize),
    /// A plane of these marks is to be clicked on again.
    ClickAgain(usize),
    /// A plane of these marks is to be taken away.
    Removed(usize),
    /// A plane of other marks is to be taken over.
    TakenOver(usize),
    /// It is to be taken as it stands.
    Submitted,
    /// It is to be left.
    Left,
}

/// Returns what a key means while the form is open.
pub(crate) fn message_for(event: &Event) -> Option<Message> {
    let Event::KeyPressed { key, modifiers, .. } = event else { return None };
    Some(match key {
        Key::Named(Named::Escape) => Message::Left,
        Key::Named(Named::Enter) => Message::Submitted,
        Key::Named(Named::Tab) if modifiers.shift() => Message::FieldTurned(-1),
        Key::Named(Named::Tab) => Message::FieldTurned(1),
        Key::Named(Named::ArrowDown) => Message::KindTurned(1),
        Key::Named(Named::ArrowUp) => Message::KindTurned(-1),
        _ => Message::Typed(typing::typed(event)?),
    })
}

impl PlaneForm {
    /// Returns the form with the planes of these marks; those of others come when they are found.
    pub(crate) fn new(kind: PlaneKind, own: Vec<ReferencePlane>) -> Self {
        let others = Vec::new();
        let mut form = Self { kind, sizes: Vec::new(), field: 0, own, others, complaint: None };
        form.choose(kind);
        form
    }

    /// Takes in planes of other marks, as soon as they are found.
    pub(crate) fn take_others(&mut self, others: Vec<(PathBuf, ReferencePlane)>) {
        self.others = others;
    }

    /// Chooses a kind, with its usual sizes.
    pub(crate) fn choose(&mut self, kind: PlaneKind) {
        self.kind = kind;
        let usual = kind.sizes().iter().map(|size| Line::new(format!("{:.2}", size.usual)));
        self.sizes = usual.collect();
        self.sizes.first_mut().into_iter().for_each(Line::select_all);
        self.field = 0;
        self.complaint = None;
    }

    /// Chooses a kind so many places on.
    pub(crate) fn turn(&mut self, by: isize) {
        let here = PlaneKind::ALL.iter().position(|kind| *kind == self.kind).unwrap_or(0);
        let next = (here as isize + by).rem_euclid(PlaneKind::ALL.len() as isize);
        self.choose(PlaneKind::ALL[next as usize]);
    }

    /// Chooses a field so many places on.
    pub(crate) fn turn_field(&mut self, by: isize) {
        let count = self.sizes.len().max(1) as isize;
        self.field = (self.field as isize + by).rem_euclid(count) as usize;
        self.sizes.get_mut(self.field).into_iter().for_each(Line::select_all);
    }

    /// Chooses a field.
    pub(crate) fn choose_field(&mut self, field: usize) {
        self.field = field.min(self.sizes.len().saturating_sub(1));
    }

    /// Takes in what was typed.
    pub(crate) fn typed(&mut self, typed: &Typed) -> Wish {
        self.complaint = None;
        self.sizes.get_mut(self.field).map_or(Wish::None, |size| size.take(typed))
    }

    /// Returns the plane as it is filled in, under a name that no other has, or what is wrong.
    pub(crate) fn plane(&self) -> Result<ReferencePlane, String> {
        let read =
            |line: &Line| line.text().trim().replace(',', ".").parse::<f64>().unwrap_or(f64::NAN);
        let sizes: Vec<f64> = self.sizes.iter().map(read).collect();
        self.kind.plane(&self.free_name(self.kind.name()), &sizes)
    }

    /// Returns one of the planes of these marks.
    pub(crate) fn own(&self, place: usize) -> Option<&ReferencePlane> {
        self.own.get(place)
    }

    /// Returns one of the planes of other marks, under a name that no other has.
    pub(crate) fn other(&self, place: usize) -> Option<ReferencePlane> {
        let (_, plane) = self.others.get(place)?;
        Some(ReferencePlane { name: self.free_name(&plane.name), ..plane.clone() })
    }

    fn free_name(&self, wanted: &str) -> String {
        let is_free = |name: &String| self.own.iter().all(|plane| plane.name != *name);
        let numbered = (2..).map(|n| format!("{wanted} {n}"));
        let mut names = std::iter::once(wanted.to_owned()).chain(numbered);
        names.find(is_free).unwrap_or_else(|| wanted.to_owned())
    }

    /// Draws the form.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let heading = text("A plane of known size").size(size::LEAD).font(theme::STRONG);
        let why = quiet(
            "Angles in the plane of the movement are true whichever way the camera looks. It \
             holds as long as the camera is not moved.",
        );
        let kinds = PlaneKind::ALL.map(|kind| {
            let style = if kind == self.kind { theme::main_button } else { theme::other_button };
            button(text(kind.name()))
                .padding([theme::space::TIGHT, theme::space::SMALL])
                .style(style)
                .on_press(Message::KindChosen(kind))
                .into()
        });
        let mut content = column![
            column![heading, why].spacing(theme::space::HAIR),
            row(kinds).spacing(theme::space::TIGHT).wrap(),
        ]
        .spacing(theme::space::MIDDLE)
        .push(self.fields());
        if let Some(complaint) = &self.complaint {
            content = content.push(text(complaint).style(theme::ink(theme::INK_MISSED)));
        }
        content = content.push(Self::foot());
        if !(self.own.is_empty() && self.others.is_empty()) {
            content = content.push(self.known());
        }
        container(scrollable(content).style(theme::lane))
            .width(part::DIALOGUE)
            .padding(theme::space::LARGE)
            .style(theme::sheet)
            .into()
    }

    fn fields(&self) -> Column<'_, Message> {
        let fields = self.kind.sizes().iter().zip(&self.sizes).enumerate();
        let lines = fields.map(|(place, (size, value))| {
            let current = Current::from(place == self.field);
            let pointed = move |typed| Message::FieldChosen(place, typed);
            let written = typing::field(value, "in metres", current, pointed);
            let label = text(size.label).width(Length::Fill).style(theme::ink(theme::INK_QUIET));
            row![label, container(written).width(part::LABEL), text("m")]
                .spacing(theme::space::SMALL)
                .align_y(Alignment::Center)
                .into()
        });
        Column::with_children(lines).spacing(theme::space::SMALL)
    }

    fn foot<'a>() -> Element<'a, Message> {
        row![
            quiet("↓ ↑ kind · Tab next size · Enter clicks its corners"),
            space().width(Length::Fill),
            button("Cancel").style(theme::other_button).on_press(Message::Left),
            button("Click it").style(theme::main_button).on_press(Message::Submitted),
        ]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
    }

    /// Planes that are there already.
    fn known(&self) -> Column<'_, Message> {
        let mut lines = column![].spacing(theme::space::TIGHT);
        if !self.own.is_empty() {
            lines = lines.push(quiet("Placed in these marks"));
        }
        for (place, plane) in self.own.iter().enumerate() {
            let state = if plane.is_clicked() { "" } else { " · corners missing" };
            lines = lines.push(row![
                text(format!("{}{state}", plane.name)).width(Length::Fill),
                small("Click again", Message::ClickAgain(place)),
                small("Remove", Message::Removed(place)),
            ]);
        }
        if !self.others.is_empty() {
            lines = lines.push(quiet("In other marks, where the camera stood the same"));
        }
        for (place, (path, plane)) in self.others.iter().enumerate() {
            let file = path.file_name().unwrap_or_default().to_string_lossy();
            lines = lines.push(row![
                text(format!("{} · {file}", plane.name)).size(size::SMALL).width(Length::Fill),
                small("Take over", Message::TakenOver(place)),
            ]);
        }
        lines
    }
}

fn small(label: &str, message: Message) -> Element<'_, Message> {
    button(text(label).size(size::SMALL))
        .padding([theme::space::HAIR, theme::space::SMALL])
        .style(theme::other_button)
        .on_press(message)
        .into()
}

fn quiet(words: &str) -> iced::widget::Text<'_> {
    text(words).size(size::SMALL).style(theme::ink(theme::INK_QUIET))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::OnPlane;

    #[test]
    fn sizes_are_typed_in_metres_with_point_or_comma() {
        let mut form = PlaneForm::new(PlaneKind::FloorMat, Vec::new());
        assert_eq!(form.typed(&Typed::Text("2,5".to_owned())), Wish::None);
        let plane = form.plane().unwrap();
        assert_eq!(
            (plane.name.as_str(), plane.points[2].place),
            ("floor mat", OnPlane([2.5, 1.0]))
        );
        assert_eq!(form.typed(&Typed::Text("x".to_owned())), Wish::None);
        assert!(form.plane().unwrap_err().contains("metres"));
    }

    #[test]
    fn a_second_plane_of_a_kind_gets_a_name_of_its_own() {
        let plane = PlaneKind::BeamSide.plane("beam side", &[5.0, 1.25, 0.2]).unwrap();
        let form = PlaneForm::new(PlaneKind::BeamSide, vec![plane]);
        assert_eq!(form.plane().unwrap().name, "beam side 2");
    }
}
