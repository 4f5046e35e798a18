use serde::{Serialize, Serializer, ser::SerializeMap as _};

use crate::practice::statistics::Stat;

/// A statistic, or in words why there is none.
#[derive(Clone, Debug, PartialEq)]
pub struct Known<T>(pub Stat<T>);

impl<T: Serialize> Serialize for Known<T> {
    /// Writes the statistic, or `{"undefined": "why"}`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match &self.0 {
            Ok(value) => value.serialize(serializer),
            Err(why) => {
                let mut map = serializer.serialize_map(Some(1))?;
                map.serialize_entry("undefined", why)?;
                map.end()
            }
        }
    }
}
