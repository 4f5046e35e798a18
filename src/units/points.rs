use std::{fmt, iter::Sum, ops, str::FromStr};

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// An amount of a score in thousandths of a point.
///
/// Amounts add up on paper, so they are integers: 0.10 in a rule book is exactly 100 here and
/// never passes through a float. Deductions are positive amounts that are taken off.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Points(pub i64);

impl Points {
    /// No points.
    pub const ZERO: Self = Self(0);

    /// Returns the shortest text that loses nothing but keeps one decimal: `0.5`, `10.0`, `0.35`.
    pub fn short(self) -> String {
        let full = self.to_string();
        let kept = full.trim_end_matches('0');
        if kept.ends_with('.') { format!("{kept}0") } else { kept.to_owned() }
    }

    /// Returns so many thousandths of the amount, halves away from zero.
    #[must_use]
    pub(crate) const fn scaled(self, thousandths: Self) -> Self {
        let product = self.0 * thousandths.0;
        Self((product + product.signum() * 500) / 1000)
    }

    /// Returns the amount as it is taken off, for people: `−0.500`, and `+0.200` for one that is
    /// given back.
    pub(crate) fn taken_off(self) -> String {
        let sign = match self.0 {
            0 => "",
            1.. => "\u{2212}",
            _ => "+",
        };
        format!("{sign}{}", Self(self.0.abs()))
    }

    /// Returns a difference in words: `0.100 more`, `0.100 less`, `the same`.
    pub(crate) fn more_or_less(self) -> String {
        match self.0 {
            0 => "the same".to_owned(),
            1.. => format!("{self} more"),
            _ => format!("{} less", Self(-self.0)),
        }
    }

    /// Returns the amount `times` over.
    #[must_use]
    pub const fn times(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl fmt::Display for Points {
    /// Writes three decimals: `9.500`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let size = self.0.unsigned_abs();
        write!(f, "{sign}{}.{:03}", size / 1000, size % 1000)
    }
}

/// Why a text is not an amount.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ParsePointsError {
    /// Something other than digits and one point.
    #[error("\"{0}\" is not an amount; write it like 0.5 or 10.0")]
    NotANumber(String),
    /// More decimals than a score has.
    #[error("\"{0}\" has more than three decimals")]
    TooFine(String),
    /// More than a million points.
    #[error("\"{0}\" is too large for an amount")]
    TooLarge(String),
}

impl FromStr for Points {
    type Err = ParsePointsError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let not_a_number = || ParsePointsError::NotANumber(text.to_owned());
        let (negative, digits) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
        let all_digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
        if !all_digits(whole) || !all_digits(part) {
            return Err(not_a_number());
        }
        // Zeros behind the third decimal change nothing and are what a spreadsheet may write.
        let part = part.trim_end_matches('0');
        if part.len() > 3 {
            return Err(ParsePointsError::TooFine(text.to_owned()));
        }
        if whole.trim_start_matches('0').len() > 6 {
            return Err(ParsePointsError::TooLarge(text.to_owned()));
        }
        let thousandths: i64 = format!("{whole}{part:0<3}").parse().map_err(|_| not_a_number())?;
        Ok(Self(if negative { -thousandths } else { thousandths }))
    }
}

impl Serialize for Points {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Points {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(de::Error::custom)
    }
}

impl ops::Add for Points {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl ops::Sub for Points {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl ops::AddAssign for Points {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl ops::SubAssign for Points {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Sum for Points {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        Self(amounts.map(|amount| amount.0).sum())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tenth_is_a_hundred_thousandths() {
        for text in ["0.1", "0.10", "0.100", "0.1000"] {
            assert_eq!(text.parse(), Ok(Points(100)), "{text}");
        }
        assert_eq!("10".parse(), Ok(Points(10_000)));
        assert_eq!("-0.05".parse(), Ok(Points(-50)));
    }

    #[test]
    fn what_is_no_amount_says_why() {
        for text in ["", ".", "1.", ".5", "1,5", "1e3", "--1", "0.5 ", "half"] {
            assert!(
                matches!(text.parse::<Points>(), Err(ParsePointsError::NotANumber(_))),
                "{text}"
            );
        }
        assert!(matches!("0.0005".parse::<Points>(), Err(ParsePointsError::TooFine(_))));
        assert!(matches!("12345678".parse::<Points>(), Err(ParsePointsError::TooLarge(_))));
    }

    #[test]
    fn is_written_with_three_decimals_or_short() {
        assert_eq!(Points(9500).to_string(), "9.500");
        assert_eq!(Points(-50).to_string(), "-0.050");
        assert_eq!(Points(9500).short(), "9.5");
        assert_eq!(Points(10_000).short(), "10.0");
        assert_eq!(Points(350).short(), "0.35");
        assert_eq!(Points(500).taken_off(), "\u{2212}0.500");
        assert_eq!(Points(-200).taken_off(), "+0.200");
        assert_eq!(Points(100).more_or_less(), "0.100 more");
        assert_eq!(Points(-100).more_or_less(), "0.100 less");
        assert_eq!(Points(0).more_or_less(), "the same");
    }

    #[test]
    fn goes_through_json_as_text() {
        assert_eq!(serde_json::to_string(&Points(500)).unwrap(), "\"0.500\"");
        assert_eq!(serde_json::from_str::<Points>("\"0.5\"").unwrap(), Points(500));
        assert!(serde_json::from_str::<Points>("0.5").is_err());
    }
}
