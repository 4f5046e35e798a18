//! Books to begin one's own from, by what a score looks like.

/// A way of scoring.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Shape {
    /// What a score is, in words.
    pub says: &'static str,
    /// What one looks like.
    pub example: &'static str,
    /// Its tables.
    scoring: &'static str,
}

/// The shapes, the commonest first.
pub(crate) const SHAPES: [Shape; 4] = [
    Shape {
        says: "A start value, less what is missing, less deductions",
        example: "10.0 − 0.5 for a missing requirement − 0.8 deductions = 8.7",
        scoring: "formula = \"start-minus\"\nstart = 10.0\n",
    },
    Shape {
        says: "The same, with deductions at half",
        example: "10.0 − 0.5 for a missing requirement − half of 0.8 = 9.1",
        scoring: "formula = \"start-minus-half\"\nstart = 10.0\n",
    },
    Shape {
        says: "Points in four parts, each emptied for itself",
        example: "3.0 value parts + 2.0 requirements + 0.8 artistry + 3.3 execution = 9.1",
        scoring: "formula = \"buckets\"\n\
            buckets = { value_parts = 3.0, requirements = 2.0, artistry = 1.0, execution = 4.0 }\n\n\
            [[fault]]\nid = \"expression\"\nlabel = \"Little expression\"\nup_to = 0.3\n\
            group = \"artistry\"\n",
    },
    Shape {
        says: "Difficulty without a limit, and execution from 10",
        example: "2.6 difficulty + 10.0 − 0.8 execution = 11.8",
        scoring: "formula = \"open\"\nexecution = 10.0\nbest = 8\n",
    },
];

impl Shape {
    /// Returns a book of this shape that passes: one division, one event, one class, one element.
    pub(crate) fn text(&self, id: &str) -> String {
        format!(
            "# Numbers and names of your programme's current book. Amounts are points, angles degrees.\n\n\
             [book]\nid = \"{id}\"\ntitle = \"{id}\"\nedition = \"1\"\n\n\
             [[division]]\nid = \"first\"\nname = \"First division\"\n\n\
             [[event]]\nid = \"beam\"\nname = \"Beam\"\n\n\
             [[class]]\nid = \"a\"\nname = \"A\"\nvalue = 0.1\n\n\
             [[scoring]]\n{}\n\
             [[value_parts]]\nneed = [{{ class = \"a\", count = 1, price = 0.5 }}]\n\n\
             [[fault]]\nid = \"feet\"\nlabel = \"Feet not pointed\"\namount = 0.1\n\n\
             [[element]]\nid = \"leap\"\nname = \"Leap\"\nevent = \"beam\"\nclass = \"a\"\n",
            self.scoring
        )
    }
}
