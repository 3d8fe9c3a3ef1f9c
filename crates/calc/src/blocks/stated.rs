//! Which stresses are limited, known before anything is worked out: a check of what is broken is told as not
//! computed, and never left out.

use haunch_syntax::{Path, Statement};

use super::context::BlockContext;
use super::limits::{LimitSubject, STRESSES, unknown_check};
use super::material::StressLimit;
use crate::line::LineId;
use crate::outcome::Check;
use crate::reads::names_of;
use crate::resolve::Target;

impl BlockContext<'_> {
    /// The stresses that the lines of a material limit.
    pub(crate) fn limited_here(&self) -> Vec<StressLimit> {
        let subject = |line: &super::context::BlockLine<'_>| match &line.tree.statement {
            Statement::Limit(limit) => StressLimit::from_word(&limit.subject.text),
            _ => None,
        };
        in_order(self.lines.iter().filter_map(subject))
    }

    /// The stresses that the materials of a section limit.
    pub(crate) fn limited_by_materials(&self) -> Vec<StressLimit> {
        let of_parts = self
            .lines
            .iter()
            .filter_map(|line| match &line.tree.statement {
                Statement::Part(part) => part.of.as_ref(),
                _ => None,
            });
        self.limited_by(of_parts, &[])
    }

    /// The stresses that the materials of the sections of a beam or of forces limit, also of sections without results.
    pub(crate) fn limited_by_sections(&self) -> Vec<StressLimit> {
        self.limited_by(self.stretches(), &[])
    }

    /// The checks of a block that stands in a ring: those of its own lines, and of sections outside of the ring.
    pub(crate) fn checks_in_ring(&self, ring: &[LineId]) -> Vec<Check> {
        let name = self.name();
        let own = self.lines.iter().filter_map(|line| {
            let Statement::Limit(limit) = &line.tree.statement else {
                return None;
            };
            let subject = LimitSubject::from_word(&limit.subject.text)?;
            let subject = match limit.sideways {
                Some(_) => subject.sideways()?,
                None => subject,
            };
            let mut check = unknown_check(&name, subject, line.id);
            let sign = crate::statements::check::sign(limit.relation);
            check.text = format!("{sign} {}", line.source(limit.bound));
            Some(check)
        });
        let stated = self.limited_by(self.stretches(), ring).into_iter();
        let stated =
            stated.map(|stress| unknown_check(&name, LimitSubject::Stress(stress), self.line));
        own.chain(stated).collect()
    }

    fn stretches(&self) -> impl Iterator<Item = &Path> {
        self.lines
            .iter()
            .filter_map(|line| match &line.tree.statement {
                Statement::SectionStretch(stretch) => Some(&stretch.section),
                _ => None,
            })
    }

    /// The stresses that are limited in the block of the heading's `of` and in others, those in a ring left out.
    fn limited_by<'p>(
        &'p self,
        others: impl Iterator<Item = &'p Path>,
        ring: &[LineId],
    ) -> Vec<StressLimit> {
        let paths = self.heading.of.as_ref().into_iter().chain(others);
        let is_outside = |path: &&Path| {
            let target = self.state.resolve(self.cell.file, &names_of(path)).target;
            !matches!(target, Target::Block { heading, .. } if ring.contains(&heading))
        };
        let blocks = paths
            .filter(is_outside)
            .filter_map(|path| self.reference(path).ok());
        in_order(blocks.flat_map(|block| block.stated()))
    }
}

/// Each once, in the order of their checks.
fn in_order(stated: impl Iterator<Item = StressLimit>) -> Vec<StressLimit> {
    let stated: Vec<StressLimit> = stated.collect();
    let mut all = STRESSES.to_vec();
    all.retain(|stress| stated.contains(stress));
    all
}
