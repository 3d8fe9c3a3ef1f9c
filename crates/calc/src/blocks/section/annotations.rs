//! What the editor shows at the lines of a section.

use std::collections::BTreeMap;

use smol_str::SmolStr;

use super::reading::PartLine;
use super::shapes::SizedShape;
use crate::blocks::context::BlockContext;
use crate::blocks::{AnnotatedResult, Annotation};
use crate::value::Evaluated;

/// Centroid, second moment and section moduli at the heading; area and centroid at each part.
pub(super) fn of(
    context: &BlockContext<'_>,
    parts: &[PartLine<'_>],
    members: &BTreeMap<SmolStr, Evaluated>,
) -> Vec<Annotation> {
    let result = |label: &'static str, member: &str| {
        let value = members.get(member)?;
        Some(AnnotatedResult::new(label, value.clone()))
    };
    let heading = [
        result("xbar", "xbar"),
        result("ybar", "ybar"),
        result("Ixx", "Ixx"),
        result("section modulus top", "section_modulus_top"),
        result("bottom", "section_modulus_bottom"),
    ];
    let mut annotations = vec![Annotation {
        line: context.line,
        results: heading.into_iter().flatten().collect(),
    }];
    annotations.extend(parts.iter().map(|own| {
        let name = own.name();
        let results = [
            area(own, members.get(format!("{name}.area").as_str())),
            result("xbar", &format!("{name}.xbar")),
            result("ybar", &format!("{name}.ybar")),
        ];
        Annotation {
            line: own.line.id,
            results: results.into_iter().flatten().collect(),
        }
    }));
    annotations
}

/// The area of a part; that of a rolled size with its standard.
fn area(own: &PartLine<'_>, area: Option<&Evaluated>) -> Option<AnnotatedResult> {
    let standard = own.shape.as_ref().and_then(SizedShape::standard);
    let label = standard.map_or("area".to_owned(), |name| format!("area to {name}"));
    Some(AnnotatedResult {
        label: label.into(),
        ..AnnotatedResult::new("area", area?.clone())
    })
}
