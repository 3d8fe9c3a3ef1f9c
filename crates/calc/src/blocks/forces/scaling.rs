//! A set of forces with one of them made larger or smaller: what a search for the largest force
//! looks at.

use haunch_quantity::Quantity;

use super::ForcesModel;
use crate::blocks::limits::LimitDemands;

/// A force of a block that is scaled while the others stay.
pub(crate) struct ScaledForce<'a> {
    model: &'a ForcesModel,
    force: Force,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Force {
    Moment,
    MomentY,
    Shear,
    Axial,
}

impl<'a> ScaledForce<'a> {
    /// The force of a field's name. None if there is no such force.
    pub(crate) fn new(model: &'a ForcesModel, field: &str) -> Option<ScaledForce<'a>> {
        let force = match field {
            "M" => Force::Moment,
            "My" => Force::MomentY,
            "V" => Force::Shear,
            "N" => Force::Axial,
            _ => return None,
        };
        Some(ScaledForce { model, force })
    }

    fn given(&self) -> Quantity {
        match self.force {
            Force::Moment => self.model.moment,
            Force::MomentY => self.model.moment_y,
            Force::Shear => self.model.shear,
            Force::Axial => self.model.axial,
        }
    }

    /// What the force is as written, without its sense.
    pub(crate) fn magnitude(&self) -> Quantity {
        self.given().absolute()
    }

    /// Whether the force is more than nothing.
    pub(crate) fn acts(&self) -> bool {
        self.given().si() != 0.0
    }

    /// The demands on every limit with the force at `factor` times its size.
    pub(crate) fn demands(&self, factor: f64) -> Vec<LimitDemands> {
        let mut action = self.model.action();
        let scaled = match self.force {
            Force::Moment => &mut action.moment,
            Force::MomentY => &mut action.moment_y,
            Force::Shear => &mut action.shear,
            Force::Axial => &mut action.axial,
        };
        *scaled *= factor;
        // With the ratio of the moments the extreme fibres change.
        let section = (*self.model.section).clone();
        let section = match self.force {
            Force::Moment | Force::MomentY => section.under(action.moment, action.moment_y),
            Force::Shear | Force::Axial => section,
        };
        let actions = [action];
        let limits = self.model.limits.iter();
        limits
            .map(|limit| LimitDemands {
                name: limit.name.clone(),
                subject: limit.stated.subject,
                demands: limit.stated.stress_demands(&section, &actions),
            })
            .collect()
    }
}
