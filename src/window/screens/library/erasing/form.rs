//! What is to be erased, by whom, and who looks on.

use std::{collections::BTreeSet, path::PathBuf};

use crate::{
    library::{Code, Copies, EraseWish, Excerpts, Marks, Shared, Witnessed},
    window::typing::Line,
};

/// What is to be erased.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum EraseSubject {
    /// This clip.
    Clip(PathBuf),
    /// Everything of an athlete.
    Athlete,
}

/// A field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum EraseField {
    /// The code of the athlete.
    Code,
    /// Who deletes.
    By,
    /// Who looks on.
    Witness,
    /// The code once more.
    Again,
}

/// Something that may be chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum EraseChoice {
    /// Marks and numbers stay.
    KeepMarks,
    /// Clips that were cut from it stay.
    KeepExcerpts,
    /// Other files with the same content go too.
    Copies,
    /// Clips on which others are filmed go too.
    Shared,
}

/// What keys are for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum EraseFocus {
    /// A field.
    Field(EraseField),
    /// A choice.
    Choice(EraseChoice),
}

/// What is filled in.
#[derive(Debug)]
pub(crate) struct EraseForm {
    /// What it is for.
    pub subject: EraseSubject,
    lines: [Line; 4],
    chosen: BTreeSet<EraseChoice>,
    focus: usize,
}

impl EraseSubject {
    /// Returns what may be filled in.
    pub(super) const fn foci(&self) -> &'static [EraseFocus] {
        use EraseChoice::{Copies, KeepExcerpts, KeepMarks, Shared};
        use EraseField::{By, Code, Witness};
        use EraseFocus::{Choice, Field};
        match self {
            Self::Clip(_) => &[
                Field(By),
                Field(Witness),
                Choice(KeepMarks),
                Choice(KeepExcerpts),
                Choice(Copies),
            ],
            Self::Athlete => &[Field(Code), Field(By), Field(Witness), Choice(Shared)],
        }
    }
}

impl EraseForm {
    /// Returns one in which nothing is filled in but a code, where one is likely.
    pub(super) fn new(subject: EraseSubject, code: &str) -> Self {
        let mut lines = <[Line; 4]>::default();
        lines[EraseField::Code as usize] = Line::new(code);
        lines[EraseField::Code as usize].select_all();
        Self { subject, lines, chosen: BTreeSet::new(), focus: 0 }
    }

    pub(super) fn line(&self, field: EraseField) -> &Line {
        &self.lines[field as usize]
    }

    pub(super) fn line_mut(&mut self, field: EraseField) -> &mut Line {
        &mut self.lines[field as usize]
    }

    pub(super) fn written(&self, field: EraseField) -> &str {
        self.line(field).text().trim()
    }

    pub(super) fn focus(&self) -> EraseFocus {
        let foci = self.subject.foci();
        foci.get(self.focus).copied().unwrap_or(foci[0])
    }

    pub(super) fn go_to(&mut self, focus: EraseFocus) {
        self.focus = self.subject.foci().iter().position(|it| *it == focus).unwrap_or(self.focus);
    }

    pub(super) fn turn_focus(&mut self, by: i8) {
        let count = self.subject.foci().len();
        self.focus = (self.focus as isize + isize::from(by)).rem_euclid(count as isize) as usize;
        if let EraseFocus::Field(field) = self.focus() {
            self.line_mut(field).select_all();
        }
    }

    pub(super) fn is_chosen(&self, choice: EraseChoice) -> bool {
        self.chosen.contains(&choice)
    }

    pub(super) fn turn(&mut self, choice: EraseChoice) {
        if !self.chosen.remove(&choice) {
            self.chosen.insert(choice);
        }
        self.go_to(EraseFocus::Choice(choice));
    }

    /// Returns what is asked for, or what is missing.
    pub(super) fn wish(&self) -> Result<(EraseWish, Witnessed), String> {
        let wish = match &self.subject {
            EraseSubject::Clip(path) => EraseWish::Clip {
                path: path.clone(),
                marks: self.either(EraseChoice::KeepMarks, [Marks::Keep, Marks::Delete]),
                excerpts: self
                    .either(EraseChoice::KeepExcerpts, [Excerpts::Keep, Excerpts::Delete]),
                copies: self.either(EraseChoice::Copies, [Copies::Delete, Copies::Keep]),
            },
            EraseSubject::Athlete => EraseWish::Athlete {
                code: self.code()?,
                shared: self.either(EraseChoice::Shared, [Shared::Delete, Shared::Close]),
            },
        };
        let [by, witness] = [EraseField::By, EraseField::Witness].map(|it| self.written(it));
        if by.is_empty() || witness.is_empty() {
            return Err("Say who deletes, and who looks on: a second adult.".to_owned());
        }
        Ok((wish, Witnessed { by: by.to_owned(), witness: witness.to_owned() }))
    }

    /// Returns the code that is written, or why it is none.
    pub(super) fn code(&self) -> Result<Code, String> {
        let written = self.written(EraseField::Code);
        if written.is_empty() {
            return Err("Write the code of the athlete who withdraws.".to_owned());
        }
        written.parse().map_err(|error: <Code as std::str::FromStr>::Err| format!("{error}."))
    }

    fn either<T>(&self, choice: EraseChoice, [yes, no]: [T; 2]) -> T {
        if self.is_chosen(choice) { yes } else { no }
    }
}
