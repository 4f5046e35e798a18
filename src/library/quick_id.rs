use std::{io, path::Path};

use crate::{store::open_file, units};

/// Returns the quick id of a clip's file.
pub fn quick_id(clip: &Path) -> io::Result<String> {
    let mut file = open_file(clip)?;
    let length = file.metadata()?.len();
    units::quick_id(&mut file, length)
}
