//! Draws a book: a few small rules of every kind, with many coincidences.

use std::fmt::Write as _;

use super::{chance::Chance, draw_asked, draw_taken, switches};

/// Tags of elements, kept few so that they coincide.
pub(super) const TAGS: [&str; 3] = ["x", "y", "z"];
pub(super) const ELEMENTS: [&str; 6] = ["e0", "e1", "e2", "e3", "e4", "e5"];
pub(super) const CLASSES: [&str; 3] = ["low", "mid", "high"];
/// Faults of every shape.
pub(super) const FAULTS: [&str; 7] = ["flat", "up", "choice", "valued", "small", "art", "loss"];

/// A book being drawn.
pub(super) struct Draw<'c> {
    pub chance: &'c mut Chance,
    pub text: String,
    pub formula: &'static str,
    /// Elements that are the same one.
    pub family: Vec<&'static str>,
    pub is_sharing_one: bool,
}

impl Draw<'_> {
    pub(super) fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    pub(super) fn table(&mut self, kind: &str, id: &str) {
        let _ = write!(self.text, "\n[[{kind}]]\nid = \"{id}\"\n");
        if !matches!(kind, "division" | "event" | "class" | "element") {
            let _ = writeln!(self.text, "label = \"{id}\"");
        }
    }

    pub(super) fn key(&mut self, key: &str, value: &str) {
        let _ = writeln!(self.text, "{key} = {value}");
    }

    pub(super) fn names(&mut self, key: &str, from: &[&str], most: usize) {
        let names = self.chance.some(from, most);
        self.key(key, &format!("{names:?}"));
    }

    /// Points below a whole one, now and then by division or by name.
    pub(super) fn points(&mut self) -> String {
        let amounts = ["0.1", "0.2", "0.3", "0.5"];
        match self.chance.below(12) {
            0 => "\"tenths\"".to_owned(),
            1 => {
                let (one, other) = (self.chance.pick(&amounts), self.chance.pick(&amounts));
                format!("{{ d1 = {one}, d2 = {other} }}")
            }
            _ => self.chance.pick(&amounts).to_owned(),
        }
    }

    pub(super) fn count(&mut self) -> String {
        match self.chance.below(8) {
            0 => "\"times\"".to_owned(),
            1 => "{ d1 = 1, d2 = 2 }".to_owned(),
            _ => (1 + self.chance.below(2)).to_string(),
        }
    }

    /// Begins a table that may hold in one division alone.
    pub(super) fn begin(&mut self, kind: &str, id: &str) {
        self.table(kind, id);
        self.scope();
    }

    /// Begins a table that has no id.
    pub(super) fn bare(&mut self, kind: &str) {
        let _ = write!(self.text, "\n[[{kind}]]\n");
    }

    pub(super) fn price(&mut self, key: &str) {
        let points = self.points();
        self.key(key, &points);
    }

    pub(super) fn scope(&mut self) {
        if self.chance.is(10) {
            let division = self.chance.pick(&["d1", "d2"]);
            self.key("divisions", &format!("\"{division}\""));
        }
    }

    pub(super) fn flag(&mut self, key: &str, percent: usize) -> bool {
        let is = self.chance.is(percent);
        if is {
            self.key(key, "true");
        }
        is
    }

    pub(super) fn group(&mut self, groups: &[&str]) {
        if self.chance.is(60) {
            let groups = self.chance.some(groups, 2);
            self.key("group", &format!("{groups:?}"));
        }
    }
}

/// Returns the text of a book.
pub(super) fn book(chance: &mut Chance) -> String {
    let formula = chance.pick(&["start-minus", "start-minus-half", "buckets", "open", "parts"]);
    let mut draw =
        Draw { chance, text: String::new(), formula, family: Vec::new(), is_sharing_one: false };
    head(&mut draw);
    scoring(&mut draw);
    elements(&mut draw);
    vault(&mut draw);
    draw_asked::value_parts(&mut draw);
    draw_asked::requirements(&mut draw);
    draw_taken::deductions(&mut draw);
    draw.text
}

fn head(draw: &mut Draw<'_>) {
    draw.line("[book]\nid = \"drawn\"\ntitle = \"Drawn\"\nedition = \"1\"");
    draw.table("division", "d1");
    draw.line("name = \"D1\"\nnumbers = { tenths = 0.3, times = 1 }");
    if draw.chance.is(25) {
        let class = draw.chance.pick(&CLASSES[..2]);
        draw.key("highest_class", &format!("\"{class}\""));
    }
    draw.table("division", "d2");
    let numbers = draw.chance.pick(&["{ times = 2 }", "{ tenths = 0.2 }", "{}"]);
    draw.line(&format!("name = \"D2\"\nlike = \"d1\"\nnumbers = {numbers}"));
    draw.table("event", "beam");
    draw.line("name = \"Beam\"");
    draw.table("event", "vault");
    draw.line("name = \"Vault\"");
    for (at, class) in CLASSES.iter().enumerate() {
        draw.table("class", class);
        draw.line(&format!("name = \"{class}\"\nvalue = 0.{}", at + 1));
    }
}

fn scoring(draw: &mut Draw<'_>) {
    let is_half = matches!(draw.formula, "start-minus-half" | "buckets");
    let half = if is_half { "start-minus-half" } else { "start-minus" };
    draw.line(&format!("\n[[scoring]]\nevents = \"vault\"\nformula = \"{half}\"\nstart = 10.0"));
    draw.line("\n[[scoring]]\nevents = \"beam\"");
    let formula = draw.formula;
    draw.key("formula", &format!("\"{formula}\""));
    match formula {
        "buckets" => {
            draw.line("buckets = { value_parts = 0.6, requirements = 0.8, artistry = 0.4, execution = 1.0 }");
        }
        "open" => {
            let best = 1 + draw.chance.below(4);
            draw.line(&format!("execution = 2.0\nbest = {best}"));
            if draw.chance.is(25) {
                draw.line("difficulty_at_most = 0.7");
            }
            if draw.chance.is(50) {
                let (tag, most) = (draw.chance.pick(&TAGS), draw.chance.below(3));
                let least = draw.chance.below(best + 1);
                let limit = match draw.chance.below(3) {
                    0 => format!("at_most = {most}"),
                    1 => format!("at_least = {least}"),
                    _ => format!("at_most = {}, at_least = {least}", most.max(least)),
                };
                let more = draw.chance.pick(&["", ", { tags = \"y\", at_most = 1 }"]);
                draw.line(&format!("limits = [{{ tags = \"{tag}\", {limit} }}{more}]"));
            }
        }
        "parts" => parts(draw),
        _ => {
            draw.line("start = 10.0");
            if draw.chance.is(30) {
                draw.line("start_at_most = 10.1");
            }
        }
    }
    let sharing = draw.chance.pick(&["many", "one"]);
    draw.is_sharing_one = sharing == "one";
    draw.key("sharing", &format!("\"{sharing}\""));
    let same = 1 + draw.chance.below(2);
    draw.key("same_counts", &same.to_string());
    if draw.chance.is(30) {
        draw.line("same_again = \"other-connection\"");
    }
    match draw.chance.below(6) {
        0 => draw.line("not_allowed = \"void\""),
        1 | 2 => draw.line("not_allowed = \"amount\"\nnot_allowed_amount = 0.4"),
        3 => draw.line("not_allowed = \"no-credit\""),
        _ => {}
    }
    if draw.chance.is(15) {
        draw.line("ceiling = 9.4");
    }
    if draw.chance.is(15) {
        draw.line("floor = 1.9");
    }
}

/// Two parts that begin with something, each of which may hold what adds or is missing, and those that
/// faults are taken off.
fn parts(draw: &mut Draw<'_>) {
    let best = 1 + draw.chance.below(4);
    let mut holds: [Vec<&str>; 2] = Default::default();
    let asked = draw.chance.pick(&["requirements", "met-requirements"]);
    for what in ["elements", asked, "value-parts", "bonus"] {
        match draw.chance.below(3) {
            2 => {}
            part => holds[part].push(what),
        }
    }
    if holds.iter().any(|holds| holds.contains(&"elements")) {
        draw.line(&format!("best = {best}"));
    }
    let mut parts: Vec<String> = Vec::new();
    for (at, holds) in holds.iter().enumerate().filter(|(_, holds)| !holds.is_empty()) {
        let base = draw.chance.pick(&["1.0", "9.0"]);
        let floor = draw.chance.pick(&["", ", floor = 0.0", ", floor = 0.9"]);
        let at_most = draw.chance.pick(&["", "", ", at_most = 9.3"]);
        let label = format!("id = \"p{at}\", label = \"P{at}\"");
        parts.push(format!("{{ {label}, base = {base}, holds = {holds:?}{floor}{at_most} }}"));
    }
    let share = draw.chance.pick(&["", ", share = 0.5"]);
    let floor = draw.chance.pick(&["", ", floor = 0.0"]);
    if draw.chance.is(50) {
        let groups = draw.chance.pick(&["artistry", "landing"]);
        let label = "id = \"art\", label = \"Art\"";
        parts.push(format!("{{ {label}, base = 0.5, groups = \"{groups}\"{floor} }}"));
    }
    let label = "id = \"exec\", label = \"Exec\"";
    parts.push(format!("{{ {label}, base = 2.0, holds = \"faults\"{share}{floor} }}"));
    parts.push("{ id = \"n\", label = \"N\", holds = \"neutral\" }".to_owned());
    draw.line(&format!("parts = [\n  {},\n]", parts.join(",\n  ")));
}

fn elements(draw: &mut Draw<'_>) {
    let has_families = draw.chance.is(70);
    let mut low: Vec<&str> = Vec::new();
    for (at, id) in ELEMENTS.iter().enumerate() {
        draw.table("element", id);
        draw.line(&format!("name = \"{id}\"\nevent = \"beam\""));
        let (mut is_low, mut is_higher) = (false, false);
        if draw.chance.is(85) {
            let class = draw.chance.pick(&CLASSES);
            draw.key("class", &format!("\"{class}\""));
            is_low = class == "low";
            is_higher = !is_low;
        }
        // The first ones carry each tag, so that rules can name it.
        let mut tags = draw.chance.some(&TAGS, 2);
        if at < TAGS.len() && !tags.contains(&TAGS[at]) {
            tags.push(TAGS[at]);
        }
        draw.key("tags", &format!("{tags:?}"));
        if has_families && draw.chance.is(30) {
            draw.line("family = \"f\"");
            draw.family.push(id);
        }
        // The guide does not say what holds where one division is selected and not listed.
        let (key, division) = (draw.chance.below(10), draw.chance.pick(&["d1", "d2"]));
        match key {
            0 => draw.key("divisions", &format!("\"{division}\"")),
            1 => draw.key("selected", &format!("\"{division}\"")),
            _ => {}
        }
        // A low one becomes another one, so that there are several steps.
        if (is_higher || is_low) && !low.is_empty() && draw.chance.is(switches::BECOMES) {
            let lower = draw.chance.pick(&low);
            draw.key("becomes", &format!("\"{lower}\""));
        }
        // The guide does not say what holds where that one is not allowed.
        if is_low && key != 0 {
            low.push(id);
        }
        if draw.chance.is(switches::VALUES) {
            draw.line("value = 0.4");
        }
    }
}

fn vault(draw: &mut Draw<'_>) {
    draw.table("element", "over");
    let value = draw.chance.pick(&["9.5", "{ d1 = 9.0, d2 = 9.5 }"]);
    draw.line(&format!(
        "name = \"Over\"\nevent = \"vault\"\n\
         vault = {{ value = {value}, before = 0, after = [0, 10], facing = \"away\" }}"
    ));
}
