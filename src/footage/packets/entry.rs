//! What is kept of one packet.

use crate::footage::libav::Structure;

use super::role::Role;

/// What is kept of one packet; its place in the list, its ordinal, is its place in decoding order.
#[derive(Clone, Copy, Debug)]
#[allow(clippy::struct_excessive_bools, reason = "each says another thing of it")]
pub(crate) struct PacketEntry {
    pub pts: Option<i64>,
    pub dts: Option<i64>,
    pub duration: i64,
    pub position: Option<i64>,
    pub fingerprint: u64,
    /// Whether decoding can start here, by container and by the packet's own bytes.
    pub key: bool,
    pub hidden: bool,
    pub corrupt: bool,
    /// Whether it leans on a picture that is not there, by what pictures say of their places.
    pub lacking: bool,
    pub structure: Structure,
    /// Which picture it is in the order of showing, counted from the last zero, where its codec
    /// says so.
    pub order: Option<i32>,
    /// How many pictures it shows by its own bytes; fields count as one each.
    pub pictures: u8,
    /// The temporal layer of its picture, where that is known.
    pub layer: Option<u8>,
    /// What its picture is to those after it.
    pub role: Role,
}

impl PacketEntry {
    /// Returns whether a picture of it is shown.
    pub(crate) fn is_shown(&self) -> bool {
        !self.hidden && self.pictures > 0
    }
}
