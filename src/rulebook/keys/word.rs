//! Words that a value must be one of, each tied to what it stands for once.

use serde::de::DeserializeOwned;

use crate::{
    geometry::Side,
    marks::{BodyPart, Facing, LandingOn, Manner, Phase, Quantity},
};

/// A value that a book writes as one of some words.
pub(crate) trait Word: Sized {
    /// The words, in the order in which they are listed.
    const WORDS: &'static [&'static str];

    /// Returns what the word stands for; nothing where it is none of them.
    fn of(word: &str) -> Option<Self>;
}

/// An enum whose variants are words of a book.
macro_rules! words {
    (
        $(#[$about:meta])*
        $vis:vis enum $name:ident {
            $( $(#[$of:meta])* $variant:ident = $word:literal, )+
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        $vis enum $name {
            $( $(#[$of])* $variant, )+
        }

        impl $crate::rulebook::keys::Word for $name {
            const WORDS: &'static [&'static str] = &[$($word),+];

            fn of(word: &str) -> Option<Self> {
                match word {
                    $( $word => Some(Self::$variant), )+
                    _ => None,
                }
            }
        }
    };
}
pub(crate) use words;

/// The words of a type as a marks file has them: which there are, and not again what they mean.
macro_rules! words_of_marks {
    ($name:ty: $($word:literal),+ $(,)?) => {
        impl $crate::rulebook::keys::Word for $name {
            const WORDS: &'static [&'static str] = &[$($word),+];

            fn of(word: &str) -> Option<Self> {
                $crate::rulebook::keys::marked(word)
            }
        }
    };
}
pub(crate) use words_of_marks;

/// Returns what the word stands for in a marks file.
pub(crate) fn marked<T: DeserializeOwned>(word: &str) -> Option<T> {
    serde_json::from_value(word.into()).ok()
}

words_of_marks!(BodyPart: "head", "back", "seat", "hips", "knees", "feet", "hand", "body");
words_of_marks!(Phase: "first_flight", "support", "second_flight", "landing");
words_of_marks!(Manner: "brush", "support");
words_of_marks!(LandingOn: "feet", "apparatus", "body");
words_of_marks!(Facing: "away", "towards", "side");
words_of_marks!(Side: "at-least", "above", "at-most", "below");

impl Word for Quantity {
    const WORDS: &'static [&'static str] = Self::WORDS;

    fn of(word: &str) -> Option<Self> {
        marked(word)
    }
}

#[cfg(test)]
mod tests {
    use super::{BodyPart, Facing, LandingOn, Manner, Phase, Quantity, Side, Word};

    fn all<T: Word>() -> Vec<T> {
        T::WORDS.iter().map(|word| T::of(word).unwrap()).collect()
    }

    #[test]
    fn the_words_are_those_of_the_marks_file() {
        assert_eq!(all::<Quantity>(), Quantity::ALL);
        all::<BodyPart>();
        all::<Phase>();
        all::<Manner>();
        all::<LandingOn>();
        all::<Facing>();
        all::<Side>();
    }
}
