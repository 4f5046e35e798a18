use std::{fmt, str::FromStr};

use serde::{Deserialize, Serialize};

/// Code of an athlete or a judge: letters, digits and hyphens, with a digit in it. Never a name.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Code(String);

/// What was given as a code may be a name.
#[derive(Debug, thiserror::Error, PartialEq, Eq)]
#[error(
    "\"{0}\" is not a code. Write letters, digits and hyphens with at least one digit, such as \
     SC-07 or J-3; children's names stay out of files"
)]
pub struct NotACode(pub String);

impl Code {
    /// Returns the code as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Returns whether `other` is the same code.
    pub(crate) fn is(&self, other: &str) -> bool {
        self.0.eq_ignore_ascii_case(other)
    }

    /// Returns whether the code stands in `text` by itself, not as a part of a longer one.
    pub(crate) fn is_in(&self, text: &[u8]) -> bool {
        self.places_in(text).next().is_some()
    }

    /// Returns `text` with `…` wherever the code stands in it.
    pub(crate) fn hidden_in(&self, text: &str) -> String {
        let mut hidden = text.to_owned();
        let places: Vec<usize> = self.places_in(text.as_bytes()).collect();
        for at in places.into_iter().rev() {
            hidden.replace_range(at..at + self.0.len(), "…");
        }
        hidden
    }

    fn places_in<'a>(&'a self, text: &'a [u8]) -> impl Iterator<Item = usize> + 'a {
        let code = self.0.as_bytes();
        let part = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_alphanumeric);
        let is_there = move |&(at, window): &(usize, &[u8])| {
            let before = at.checked_sub(1).and_then(|at| text.get(at));
            window.eq_ignore_ascii_case(code) && !part(before) && !part(text.get(at + code.len()))
        };
        text.windows(code.len()).enumerate().filter(is_there).map(|(at, _)| at)
    }
}

impl TryFrom<String> for Code {
    type Error = NotACode;
    fn try_from(text: String) -> Result<Self, NotACode> {
        text.parse()
    }
}

impl From<Code> for String {
    fn from(code: Code) -> Self {
        code.0
    }
}

impl FromStr for Code {
    type Err = NotACode;
    fn from_str(text: &str) -> Result<Self, NotACode> {
        let plain = |c: char| c.is_ascii_alphanumeric() || c == '-';
        let is_code = text.len() <= 32
            && text.chars().all(plain)
            && text.chars().any(|c| c.is_ascii_digit())
            && text.starts_with(|c: char| c.is_ascii_alphanumeric())
            && text.ends_with(|c: char| c.is_ascii_alphanumeric());
        if is_code { Ok(Self(text.to_owned())) } else { Err(NotACode(text.to_owned())) }
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_no_codes() {
        for text in ["Anna", "anna b", "", "-7", "SC-", "SC 07", "7/../x"] {
            assert!(text.parse::<Code>().is_err(), "{text}");
        }
        for text in ["SC-07", "7", "A1"] {
            assert!(text.parse::<Code>().is_ok(), "{text}");
        }
    }

    #[test]
    fn is_found_whole_only() {
        let code: Code = "SC-07".parse().unwrap();
        for text in ["SC-07", "\"SC-07\"", "beam sc-07.mp4", "a_SC-07_b", "xSC-07 SC-07"] {
            assert!(code.is_in(text.as_bytes()), "{text}");
        }
        for text in ["SC-071", "ASC-07", "SC-7", ""] {
            assert!(!code.is_in(text.as_bytes()), "{text}");
        }
    }

    #[test]
    fn is_hidden_wherever_it_stands() {
        let code: Code = "SC-07".parse().unwrap();
        assert_eq!(code.hidden_in("sc-07 and SC-071 and SC-07"), "… and SC-071 and …");
    }
}
