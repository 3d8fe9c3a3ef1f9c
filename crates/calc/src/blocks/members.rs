//! The results of a block by their names.

use haunch_quantity::Quantity;
use smol_str::SmolStr;

use super::{BlockMeaning, Model, beam, forces};
use crate::value::Evaluated;

/// Results sorted by name, each name once.
pub(super) type Members = Box<[(SmolStr, Evaluated)]>;

/// The result that tells how much of its limits a block uses.
pub(super) const UTILISATION: &str = "utilisation";

/// Whether a full name is that of a utilisation: of a block, or under one combination. It is shown as a check's is,
/// so that a share above 100 % is seen to be.
pub fn is_utilisation(name: &str) -> bool {
    let block = name.strip_suffix(UTILISATION);
    block.is_some_and(|block| block.ends_with('.'))
}

impl BlockMeaning {
    /// A result by its name after the block's, e.g. `ybar`, `flange.area`, `strength.M_max`.
    pub fn member(&self, name: &str) -> Option<Evaluated> {
        let known = self.listed(name);
        known.or_else(|| match &self.model {
            Some(Model::Section(section)) => section.on_request(name).map(Evaluated::quantity),
            _ => None,
        })
    }

    /// Every result with its name, sorted by name; those of a section that take long to work out are
    /// left out.
    pub fn members(&self) -> Vec<(SmolStr, Evaluated)> {
        let evaluated = |(name, value): (SmolStr, Quantity)| (name, Evaluated::quantity(value));
        match &self.model {
            None | Some(Model::Sheet) => Vec::new(),
            Some(Model::Material(material)) => material.members().map(evaluated).collect(),
            Some(Model::Section(section)) => section.members().into_iter().map(evaluated).collect(),
            Some(Model::Forces(_)) => self.kept().to_vec(),
            Some(Model::Beam(_)) => {
                let mut members = self.kept().to_vec();
                for (name, value) in self.utilisations() {
                    // A support may have that name, and then stands for it.
                    if let Err(at) = members.binary_search_by(|(own, _)| own.cmp(name)) {
                        members.insert(at, (name.clone(), value.clone()));
                    }
                }
                members
            }
        }
    }

    /// The names of all results.
    pub fn member_names(&self) -> Vec<SmolStr> {
        self.members().into_iter().map(|(name, _)| name).collect()
    }

    /// A result that is among those of [`BlockMeaning::members`].
    fn listed(&self, name: &str) -> Option<Evaluated> {
        match self.model.as_ref()? {
            Model::Sheet => None,
            Model::Material(material) => {
                let mut members = material.members();
                let (_, value) = members.find(|(own, _)| own == name)?;
                Some(Evaluated::quantity(value))
            }
            Model::Section(section) => section.member(name).map(Evaluated::quantity),
            Model::Forces(_) | Model::Beam(_) => {
                let is_utilisation = name.ends_with(UTILISATION);
                let others = || find(self.utilisations(), name);
                let found = find(self.kept(), name);
                found.or_else(|| is_utilisation.then(others).flatten())
            }
        }
    }

    fn kept(&self) -> &Members {
        self.kept.get_or_init(|| match &self.model {
            Some(Model::Forces(model)) => sorted(forces::members(model, &self.checks)),
            Some(Model::Beam(model)) => sorted(beam::members(model)),
            _ => Members::default(),
        })
    }

    /// The utilisations of a beam.
    fn utilisations(&self) -> &Members {
        self.kept_utilisations.get_or_init(|| match &self.model {
            Some(Model::Beam(model)) => sorted(beam::utilisations(model)),
            _ => Members::default(),
        })
    }

    /// Whether a result (of the given name, or a function's) is the same in another version of
    /// the block. Without a name: whether the whole block is.
    pub(crate) fn same_member(&self, other: &BlockMeaning, name: &str) -> bool {
        match (self.listed(name), other.listed(name)) {
            (Some(before), Some(after)) => before == after,
            _ => self == other,
        }
    }
}

fn find(members: &Members, name: &str) -> Option<Evaluated> {
    let at = members.binary_search_by(|(own, _)| own.as_str().cmp(name));
    Some(members.get(at.ok()?)?.1.clone())
}

/// Of several results of one name the last stays.
fn sorted(mut members: Vec<(SmolStr, Evaluated)>) -> Members {
    members.reverse();
    members.sort_by(|(a, _), (b, _)| a.cmp(b));
    members.dedup_by(|(later, _), (kept, _)| later == kept);
    members.into()
}
