//! What is done first beside the window's thread, whatever is made.

use crate::{footage::Footage, window::screens::underway::Underway};

use super::state::End;

/// Returns the clip with every frame proved: what leaves was held against its proof. Slow.
pub(in crate::window::screens::clip) fn proved(
    footage: &Footage,
    underway: &Underway,
) -> Result<Footage, End> {
    let name = footage.path().file_name().unwrap_or_default().to_string_lossy();
    let told = |proving| underway.proving(&name, proving);
    let proved = footage.proved_telling(&|| underway.is_stopped(), &told);
    proved.ok_or_else(|| {
        if underway.is_stopped() {
            End::Stopped
        } else {
            End::Failed("The clip cannot be read to its end any more.".to_owned())
        }
    })
}
