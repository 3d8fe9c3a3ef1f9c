//! The section of a beam along its length: its heading's, and others over stretches of it.

use haunch_mechanics::beam::{Stiffness, Stretch};
use haunch_quantity::typed::{FlexuralRigidity, Length, Typed};
use haunch_syntax::{Path, Statement};
use smol_str::SmolStr;

use super::super::context::{BlockLine, ReferenceError};
use super::super::{BlockMeaning, SectionModel};
use super::buckling::AxisRigidities;
use super::reading::{Lines, Reading};
use super::structure::Geometry;
use crate::findings;
use crate::reads::names_of;

/// A section as a beam bends it.
#[derive(Debug, Clone, PartialEq)]
pub struct BentSection {
    /// Its name as the beam's line writes it, e.g. `rail` or `shop.rail`.
    pub name: SmolStr,
    /// The section.
    pub section: SectionModel,
    /// Flexural rigidity against bending downward; none without a modulus of elasticity.
    pub rigidity: Option<FlexuralRigidity>,
    /// Flexural rigidity against bending sideways; none without a modulus of elasticity.
    pub rigidity_sideways: Option<FlexuralRigidity>,
    /// How the principal axes are turned, where they are.
    pub turned: Option<Turned>,
    /// About each axis; none without a modulus of elasticity.
    pub axes: Option<AxisRigidities>,
    /// The principal axes are turned: loads straight down move the beam sideways, too.
    pub moves_sideways: bool,
}

/// Ratios of the second moments of area of a section whose principal axes are turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turned {
    /// Ixy²/(Ixx·Iyy), between 0 and 1.
    pub share: f64,
    /// Ixy/Ixx
    pub xy_over_x: f64,
    /// Ixy/Iyy
    pub xy_over_y: f64,
}

/// A stretch of a beam with one section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeamStretch {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The index of its section among the beam's.
    pub section: usize,
}

/// The sections of a beam, and where each of them is.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sections {
    /// The heading's first, then those of the lines, sorted by name.
    pub(super) all: Vec<BentSection>,
    /// In order from the start, together the whole beam.
    pub(super) stretches: Vec<BeamStretch>,
}

/// Shares below this are rounding.
const TURNED: f64 = 1e-12;

impl BentSection {
    /// A moment about one axis alone bends the beam by M/(E·(Ixx − Ixy²/Iyy)) or
    /// My/(E·(Iyy − Ixy²/Ixx)) about that axis (unsymmetrical bending; any textbook of strength of
    /// materials).
    /// `block` gives the second moments of area; without them there is no rigidity.
    fn new(block: &BlockMeaning, name: SmolStr) -> Option<BentSection> {
        let section = block.as_section()?.clone();
        let second_moment = |name: &str| block.member(name)?.as_quantity();
        let ratios = || {
            let [x, y, xy] = ["Ixx", "Iyy", "Ixy"].map(second_moment);
            let (over_x, over_y) = (xy?.si() / x?.si(), xy?.si() / y?.si());
            Some(Turned {
                share: over_x * over_y,
                xy_over_x: over_x,
                xy_over_y: over_y,
            })
        };
        let ratios = ratios().filter(|ratios| (0.0..1.0).contains(&ratios.share));
        let share = ratios.map(|ratios| ratios.share);
        let upright = section.flexural_rigidity.map(|rigidity| rigidity.si());
        let level = || Some(second_moment("EI_y")?.si());
        let free_across = |(rigidity, share): (f64, f64)| {
            let share = if share < TURNED { 0.0 } else { share };
            FlexuralRigidity::from_si(rigidity * (1.0 - share))
        };
        let rigidity = upright.zip(share).map(free_across);
        let rigidity_sideways = level().zip(share).map(free_across);
        let axes = || {
            let [x, y] = ["EI_x", "EI_y"].map(second_moment);
            let [about_x, least] = ["Ixx", "I_minor"].map(second_moment);
            let (x, y) = (x?.si(), y?.si());
            Some(AxisRigidities {
                about_x: FlexuralRigidity::from_si(x),
                about_y: FlexuralRigidity::from_si(y),
                least: FlexuralRigidity::from_si(x * (least?.si() / about_x?.si())),
            })
        };
        Some(BentSection {
            name,
            section,
            rigidity,
            rigidity_sideways,
            turned: ratios.filter(|ratios| ratios.share >= TURNED),
            axes: axes(),
            moves_sideways: share.is_some_and(|share| share >= TURNED),
        })
    }
}

/// The heading's section; none if it has no results, for a reason that is told at its own place.
pub(super) fn of_heading(reading: &mut Reading<'_>) -> Option<BentSection> {
    let context = reading.context;
    let Some(path) = &context.heading.of else {
        let finding = findings::missing_property::section(context.name_place(), &context.name());
        reading.refuse(finding);
        return None;
    };
    let block = context.reference(path).ok();
    let name = super::section_name(context);
    let bent = block.and_then(|block| BentSection::new(&block, name));
    if bent.is_none() {
        reading.is_incomplete();
    }
    bent
}

/// A stretch as its line states it.
struct Stated<'a> {
    line: &'a BlockLine<'a>,
    from: f64,
    to: f64,
    name: SmolStr,
}

impl Sections {
    /// One section all along the beam.
    fn uniform(section: BentSection, length: f64) -> Sections {
        Sections {
            all: vec![section],
            stretches: vec![BeamStretch {
                from: Length::from_si(0.0),
                to: Length::from_si(length),
                section: 0,
            }],
        }
    }

    /// Reads the stretches; none where one of them is not known.
    pub(super) fn read<'a>(
        reading: &mut Reading<'a>,
        lines: &Lines<'a>,
        geometry: &Geometry,
        own: BentSection,
    ) -> Option<Sections> {
        let extent = &geometry.extent;
        let mut sections = Sections::uniform(own, extent.length);
        let mut stated = Vec::new();
        let mut known = true;
        for line in &lines.stretches {
            let Statement::SectionStretch(stretch) = &line.tree.statement else {
                continue;
            };
            let section = section_of(reading, line, &stretch.section);
            let from = reading.position(line, &stretch.from, extent);
            let to = reading.position(line, &stretch.to, extent);
            let (Some(section), Some(from), Some(to)) = (section, from, to) else {
                known = false;
                continue;
            };
            if to <= from || extent.is_same(from, to) {
                let place = line.place(stretch.from.span.cover(stretch.to.span));
                reading.refuse(findings::place::wrong(
                    place,
                    "a stretch ends after it begins: write the nearer place first.",
                ));
                known = false;
                continue;
            }
            stated.push(Stated {
                line,
                from,
                to,
                name: section.name.clone(),
            });
            if sections.all.iter().all(|other| other.name != section.name) {
                sections.all.push(section);
            }
        }
        sections.all[1..].sort_by(|a, b| a.name.cmp(&b.name));
        stated.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        for pair in stated.windows(2) {
            if let [before, after] = pair
                && before.to > after.from
                && !extent.is_same(before.to, after.from)
            {
                let finding = findings::place::wrong(
                    after.line.whole(),
                    "another line gives part of this stretch its section. A place has one section.",
                );
                reading.refuse(finding.with_related(before.line.whole(), "the other line"));
                known = false;
            }
        }
        if !known {
            reading.is_incomplete();
            return None;
        }
        if !stated.is_empty() {
            sections.lay(&stated, geometry);
        }
        Some(sections)
    }

    /// Puts the stated stretches along the beam, with the heading's section between them.
    fn lay(&mut self, stated: &[Stated<'_>], geometry: &Geometry) {
        let extent = &geometry.extent;
        let mut stretches = Vec::new();
        let mut covered = 0.0;
        let mut add = |from: f64, to: f64, section: usize| {
            stretches.push(BeamStretch {
                from: Length::from_si(from),
                to: Length::from_si(to),
                section,
            });
        };
        for own in stated {
            let index = self.all.iter().position(|section| section.name == own.name);
            if !extent.is_same(covered, own.from) {
                add(covered, own.from, 0);
            }
            let to = if extent.is_same(own.to, extent.length) {
                extent.length
            } else {
                own.to
            };
            add(covered.max(own.from), to, index.unwrap_or(0));
            covered = to;
        }
        if !extent.is_same(covered, extent.length) {
            add(covered, extent.length, 0);
        }
        self.stretches = stretches;
    }

    /// What is known of the flexural rigidity.
    pub(super) fn stiffness(&self) -> Stiffness {
        let of = |stretch: &BeamStretch| {
            Some(Stretch {
                from: stretch.from,
                to: stretch.to,
                rigidity: self.all.get(stretch.section)?.rigidity?,
            })
        };
        let stretches: Option<Vec<Stretch>> = self.stretches.iter().map(of).collect();
        match (stretches.as_deref(), self.stretches.as_slice()) {
            (Some([only]), _) => Stiffness::Uniform(only.rigidity),
            (Some(stretches), _) => Stiffness::Stepped(stretches.to_vec()),
            (None, [_]) => Stiffness::UnknownUniform,
            (None, _) => Stiffness::Unknown,
        }
    }

    /// Works out the shear stress from sideways forces in each section.
    pub(super) fn bear_sideways_shear(&mut self) {
        for bent in &mut self.all {
            bent.section = bent.section.clone().with_sideways_shear();
        }
    }

    /// The sections that are somewhere along the beam.
    pub(super) fn used(&self) -> impl Iterator<Item = &BentSection> {
        let is_used = |index: &usize| self.stretches.iter().any(|s| s.section == *index);
        (0..self.all.len())
            .filter(is_used)
            .filter_map(|index| self.all.get(index))
    }
}

/// The section that a stretch names; what is wrong with it is told at the line.
fn section_of(reading: &mut Reading<'_>, line: &BlockLine<'_>, path: &Path) -> Option<BentSection> {
    let context = reading.context;
    let name: SmolStr = names_of(path).join(".").into();
    let (first, last) = (path.names.first()?, path.names.last()?);
    let place = line.place(first.span.cover(last.span));
    let wrong_kind = || findings::reference::wrong_kind(place, &name, "a section");
    let found = match context.reference(path) {
        Ok(block) if block.kind == haunch_syntax::BlockKind::Section => {
            BentSection::new(&block, name.clone())
        }
        Ok(_) | Err(ReferenceError::WrongKind) => {
            reading.refuse(wrong_kind());
            None
        }
        Err(ReferenceError::Undefined) => {
            reading.refuse(findings::unknown_name::block(place, &name, "section"));
            None
        }
        Err(ReferenceError::Unknown) => None,
    };
    if found.is_none() {
        reading.is_incomplete();
    }
    found
}
