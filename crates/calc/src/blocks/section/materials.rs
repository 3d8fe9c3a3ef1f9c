//! The materials of a section: its heading's and those of its parts.
//!
//! With more than one the section is transformed: each part's area counts n = E/E₀ times, E₀ being
//! the modulus of the heading's material.

use std::sync::Arc;

use haunch_quantity::Quantity;
use haunch_quantity::typed::{Ratio, Typed};
use haunch_syntax::Path;
use haunch_text::Span;
use smol_str::SmolStr;

use super::reading::Reading;
use crate::blocks::context::{BlockLine, ReferenceError};
use crate::blocks::material::MaterialLimit;
use crate::blocks::{BlockMeaning, MaterialModel};
use crate::finding::Place;
use crate::findings::{deductions, reference, section_materials, unknown_name};
use crate::reads::names_of;

/// A material of a section, or the lack of one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Material {
    /// The name as it is written; empty for none.
    pub(super) name: SmolStr,
    pub(super) elastic_modulus: Option<Quantity>,
    pub(super) shear_modulus: Option<Quantity>,
    pub(super) density: Option<Quantity>,
    pub(super) thermal_expansion: Option<Quantity>,
    pub(super) limits: Arc<[MaterialLimit]>,
    /// E over that of the reference material.
    pub(super) modular_ratio: Ratio,
}

/// The materials of a section's parts.
pub(super) struct Materials {
    /// The reference material first.
    pub(super) all: Vec<Material>,
    /// For each part the index of its material.
    pub(super) of_parts: Vec<usize>,
}

/// A material that was found.
struct Found {
    block: Arc<BlockMeaning>,
    name: SmolStr,
}

/// Finds the materials; none where one of them is not known.
pub(super) fn find(reading: &mut Reading<'_>) -> Option<Materials> {
    let context = reading.context;
    let heading = context.heading.of.as_ref();
    let mut known = true;
    let reference = heading.and_then(|path| {
        // What is wrong with it is told at the heading.
        let block = context.reference(path).ok()?;
        block.as_material()?;
        Some(Found {
            block,
            name: joined(path),
        })
    });
    known &= heading.is_none() || reference.is_some();
    let mut others: Vec<(usize, Found)> = Vec::new();
    for index in 0..reading.parts.len() {
        let own = &reading.parts[index];
        let (line, part) = (own.line, own.part);
        let Some(path) = &part.of else { continue };
        if part.deduct.is_some() {
            let name = part.name.text.clone();
            let place = path_place(&line, path);
            reading.refuse(deductions::material(place, with_word(&line, place), &name));
            known = false;
            continue;
        }
        match of_part(reading, &line, path) {
            Some(found) => others.push((index, found)),
            None => known = false,
        }
        if heading.is_none() {
            let place = path_place(&line, path);
            let section = context.name();
            reading.refuse(section_materials::reference(place, &section));
            return None;
        }
    }
    reading.complete &= known;
    if !known {
        return None;
    }
    gather(reading, reference, others)
}

fn joined(path: &Path) -> SmolStr {
    names_of(path).join(".").into()
}

fn path_place(line: &BlockLine<'_>, path: &Path) -> Place {
    let spans = path.names.iter().map(|name| name.span);
    line.place(spans.reduce(Span::cover).unwrap_or_default())
}

/// The stretch of a material with the word `of` and the space in front of it.
fn with_word(line: &BlockLine<'_>, place: Place) -> Place {
    let before = line.cell.text.get(..place.span.start as usize);
    let start = before.map_or(place.span.start as usize, |text| {
        let text = text.trim_end();
        text.strip_suffix("of").unwrap_or(text).trim_end().len()
    });
    line.place(Span::new(start, place.span.end as usize))
}

fn of_part(reading: &mut Reading<'_>, line: &BlockLine<'_>, path: &Path) -> Option<Found> {
    let name = joined(path);
    let place = path_place(line, path);
    let finding = match reading.context.reference(path) {
        Ok(block) if block.kind == haunch_syntax::BlockKind::Material => {
            // A material that is there but broken has its finding on its own lines.
            block.as_material()?;
            return Some(Found { block, name });
        }
        Err(ReferenceError::Unknown) => return None,
        Err(ReferenceError::Undefined) => unknown_name::block(place, &name, "material"),
        Ok(_) | Err(ReferenceError::WrongKind) => reference::wrong_kind(place, &name, "a material"),
    };
    reading.refuse(finding);
    None
}

/// The distinct materials with their modular ratios.
fn gather(
    reading: &mut Reading<'_>,
    reference: Option<Found>,
    others: Vec<(usize, Found)>,
) -> Option<Materials> {
    let mut of_parts = vec![0; reading.parts.len()];
    let Some(reference) = reference else {
        return Some(Materials {
            all: vec![Material::new(SmolStr::default(), None, 1.0)],
            of_parts,
        });
    };
    let mut distinct: Vec<Found> = vec![reference];
    for (part, found) in others {
        // Two ways to write one material lead to the same block.
        let known = distinct
            .iter()
            .position(|own| Arc::ptr_eq(&own.block, &found.block));
        let index = known.unwrap_or_else(|| {
            distinct.push(found);
            distinct.len() - 1
        });
        if let Some(own) = of_parts.get_mut(part) {
            *own = index;
        }
    }
    if distinct.len() == 1 {
        let all = distinct
            .iter()
            .map(|found| Material::new(found.name.clone(), found.block.as_material(), 1.0))
            .collect();
        return Some(Materials { all, of_parts });
    }
    let section = reading.context.name();
    let modulus = |found: &Found| found.block.as_material()?.elastic_modulus;
    let lacking: Vec<_> = distinct
        .iter()
        .filter(|found| modulus(found).is_none())
        .map(|found| {
            let place = reading.context.name_place();
            section_materials::modulus(place, &found.name, &section)
        })
        .collect();
    if !lacking.is_empty() {
        for finding in lacking {
            reading.refuse(finding);
        }
        return None;
    }
    let base = distinct.first().and_then(modulus)?.si();
    let all = distinct
        .iter()
        .map(|found| {
            let ratio = modulus(found)?.si() / base;
            let model = found.block.as_material();
            Some(Material::new(found.name.clone(), model, ratio))
        })
        .collect::<Option<Vec<_>>>()?;
    Some(Materials { all, of_parts })
}

impl Material {
    fn new(name: SmolStr, model: Option<&MaterialModel>, modular_ratio: f64) -> Material {
        Material {
            name,
            elastic_modulus: model.and_then(|model| model.elastic_modulus),
            shear_modulus: model.and_then(|model| model.shear_modulus),
            density: model.and_then(|model| model.density),
            thermal_expansion: model.and_then(|model| model.thermal_expansion),
            limits: model.map(|model| model.limits.clone()).unwrap_or_default(),
            modular_ratio: Ratio::from_si(modular_ratio),
        }
    }
}
