//! Going on with a sitting that was broken off, or beginning the next one.

use std::path::Path;

use super::{
    file::{SittingError, SittingFile, files_of, path_for, read},
    machine::Sitting,
    plan::plan,
    record::{Begun, Mode, Record},
};
use crate::practice::set::Set;

/// Opens the last sitting of the person where it is not finished and of this very set, or begins
/// a new one; `person` is the code and who answers.
pub fn go_on_or_begin(
    set: &Set,
    set_file: &Path,
    person: (&str, Mode),
    today: &str,
) -> Result<(SittingFile, Begun, Vec<Record>), SittingError> {
    let (code, mode) = person;
    let files = files_of(set_file, code);
    if let Some(last) = files.last() {
        let (begun, records) = read(last)?;
        let sat = Sitting::new(set, begun.mode, &begun.looks, &records);
        if begun.set_hash == set.hash && begun.mode == mode && !sat.is_answered() {
            return SittingFile::open(last);
        }
    }
    let earlier: Vec<Vec<Record>> =
        files.iter().map(|file| Ok(read(file)?.1)).collect::<Result<_, SittingError>>()?;
    let begun = Begun {
        set: set.id.clone(),
        set_hash: set.hash.clone(),
        person: code.to_owned(),
        date: today.to_owned(),
        mode,
        looks: plan(set, &earlier),
    };
    let mut number = files.len() + 1;
    while path_for(set_file, code, number).exists() {
        number += 1;
    }
    let file = SittingFile::create(&path_for(set_file, code, number), &begun)?;
    Ok((file, begun, Vec::new()))
}
