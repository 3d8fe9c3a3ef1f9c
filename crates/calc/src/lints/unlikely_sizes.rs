//! Sizes of a section that can be drawn but are hardly meant: breadth and height, or web and flange,
//! exchanged; a plate thicker than the section that it is part of; a slip of the unit.

use haunch_quantity::{Preferences, Quantity, format_quantity};

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unlikely-sizes",
    severity: Severity::Warning,
    summary: "sizes of a section are exchanged, or far from what the trade meets",
    page: include_str!("../findings/pages/unlikely-sizes.md"),
};

/// No I shape, channel or zed is so much broader than high; common practice, no source.
const BROADER: f64 = 1.5;
/// No web is so much thicker than its flanges; common practice, no source.
const THICKER: f64 = 1.5;
/// The wall of a round tube is at most this part of its diameter; common practice, no source.
const WALL: f64 = 0.4;
/// A part that is called after a beam that always stands upright is at most so many times as broad as
/// high; common practice, no source.
const LYING: f64 = 1.5;
/// Words for such beams; common practice, no source.
const UPRIGHT: [&str; 3] = ["joist", "rafter", "trimmer"];
/// A plate has at least this breadth for its thickness before it is said to stand or lie; common
/// practice, no source.
const PLATE: f64 = 3.0;
/// Breadth and depth over all, in m, from a strip of sheet to a bridge; common practice, no source.
const OVER_ALL: std::ops::RangeInclusive<f64> = 0.0005..=50.0;

/// A part as it was drawn, not turned.
pub(crate) struct Sizes<'a> {
    /// The sizes on its line.
    pub(crate) place: Place,
    pub(crate) name: &'a str,
    /// The shape's words.
    pub(crate) shape: &'a str,
    /// In the order of the line.
    pub(crate) sizes: Vec<Quantity>,
    /// It stands on another part, or hangs below it.
    pub(crate) is_stacked: bool,
}

/// Sizes of one part beside each other.
pub(crate) fn of_part(part: &Sizes<'_>) -> Option<Finding> {
    let name = part.name;
    if let ("round tube", [diameter, wall]) = (part.shape, part.sizes.as_slice())
        && wall.si() > WALL * diameter.si()
    {
        let message = format!(
            "the wall of {name} is so thick that hardly a tube is left. The outer diameter comes \
             before the wall. Check the numbers and their units."
        );
        return Some(part.finding(message));
    }
    let [breadth, height, web, flange] = part.sizes.as_slice() else {
        return None;
    };
    let is_high = matches!(part.shape, "I shape" | "channel" | "zed");
    if is_high && breadth.si() > BROADER * height.si() {
        let message = format!(
            "{name} is far broader than high. Breadth comes before height: are they exchanged?"
        );
        return Some(part.finding(message));
    }
    let has_web = is_high || part.shape == "tee";
    (has_web && web.si() > THICKER * flange.si()).then(|| {
        part.finding(format!(
            "the web of {name} is thicker than its flanges. The thickness of the web comes before \
             that of the flange: are they exchanged?"
        ))
    })
}

/// Rectangles that are a web and a flange by their names, beside each other.
pub(crate) fn of_plates(parts: &[Sizes<'_>]) -> Vec<Finding> {
    let named = |words: &'static [&str]| {
        parts.iter().filter(move |part| {
            let mut of_name = part.name.split('_');
            part.shape == "rect" && of_name.any(|word| words.contains(&word))
        })
    };
    let mut findings = Vec::new();
    for flange in named(&["flange"]) {
        findings.extend(named(&["web", "stem"]).find_map(|web| beside(flange, web)));
    }
    findings.dedup();
    findings
}

/// A rectangle that is a section by itself and lies flat, where the section or the rectangle is called
/// after a beam that stands upright.
pub(crate) fn of_only_part(section: &str, part: &Sizes<'_>) -> Option<Finding> {
    let [breadth, height] = part.sizes.as_slice() else {
        return None;
    };
    let words = || section.split('_').chain(part.name.split('_'));
    let word = UPRIGHT
        .iter()
        .find(|word| words().any(|own| own == **word))?;
    let lies = part.shape == "rect" && breadth.si() > LYING * height.si();
    lies.then(|| {
        part.finding(format!(
            "{} lies flat, and a {word} stands upright. Breadth comes before height: are they \
             exchanged?",
            part.name
        ))
    })
}

fn beside(flange: &Sizes<'_>, web: &Sizes<'_>) -> Option<Finding> {
    let ([breadth, thickness], [wall, depth]) = (flange.sizes.as_slice(), web.sizes.as_slice())
    else {
        return None;
    };
    let (breadth, thickness, wall, depth) = (breadth.si(), thickness.si(), wall.si(), depth.si());
    if !(flange.is_stacked || web.is_stacked) {
        return None;
    }
    let stands = |breadth: f64, height: f64| height >= PLATE * breadth;
    let lies = |breadth: f64, height: f64| breadth >= PLATE * height;
    let exchanged = "Breadth comes before height: are they exchanged?";
    let check = "Check the numbers and their units.";
    let (flange_name, web_name) = (flange.name, web.name);
    if stands(breadth, thickness) && stands(wall, depth) {
        Some(flange.finding(format!(
            "{flange_name} stands upright as {web_name} does. {exchanged}"
        )))
    } else if lies(wall, depth) && lies(breadth, thickness) {
        Some(web.finding(format!(
            "{web_name} lies flat as {flange_name} does. {exchanged}"
        )))
    } else if thickness > depth && stands(wall, depth) {
        Some(flange.finding(format!(
            "{flange_name} is thicker than {web_name} is deep. {check}"
        )))
    } else if wall > breadth && lies(breadth, thickness) {
        Some(web.finding(format!(
            "{web_name} is thicker than {flange_name} is broad. {check}"
        )))
    } else {
        None
    }
}

impl Sizes<'_> {
    fn finding(&self, message: String) -> Finding {
        Finding::new(&CODE, self.place, message).about(self.name)
    }
}

/// A section that is too small or too large to be one.
pub(crate) fn over_all(
    place: Place,
    name: &str,
    (width, depth): (Quantity, Quantity),
    preferences: &Preferences,
) -> Option<Finding> {
    let all = [("wide", width), ("deep", depth)];
    let (word, size) = all
        .into_iter()
        .find(|(_, size)| !OVER_ALL.contains(&size.si()))?;
    let size = format_quantity(size, None, preferences);
    let message = format!(
        "{name} is {size} {word} over all, far from what the trade meets. Check the numbers and their \
         units."
    );
    Some(Finding::new(&CODE, place, message).about(name))
}
