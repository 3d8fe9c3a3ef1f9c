//! Results that are worked out only when somebody asks for them, of a whole file.

use haunch_quantity::Quantity;

use crate::blocks::{Model, SectionModel};
use crate::line::{FileId, LineId};
use crate::snapshot::Snapshot;

/// A result that was asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct OnRequest {
    /// Its full name, e.g. `bar.torsion_constant`.
    pub name: String,
    /// The heading of its block.
    pub line: LineId,
    /// The result, or why there is none, in words that go on a sentence.
    pub result: Result<Quantity, String>,
    /// How it was worked out; none without a result.
    pub method: Option<&'static str>,
    /// How far it may be off; none where it is exact.
    pub error: Option<Quantity>,
}

impl Snapshot {
    /// The results of torsion of every section of a file that has results, in the order of the
    /// lines. Working them out takes longer than everything else about a file.
    pub fn torsion(&self, file: FileId) -> Vec<OnRequest> {
        let mut found = Vec::new();
        for line in self.lines(file) {
            let Some(block) = line.block() else { continue };
            let Some(Model::Section(section)) = &block.model else {
                continue;
            };
            if self.is_named_twice(line.id()) {
                continue;
            }
            for &member in SectionModel::ON_REQUEST {
                let known = block.member(member).and_then(|value| value.as_quantity());
                let why_not = || section.no_result(member).unwrap_or_default();
                let (method, error) = section.method(member).unzip();
                found.push(OnRequest {
                    name: format!("{}.{member}", block.name),
                    line: line.id(),
                    result: known.ok_or_else(why_not),
                    method,
                    error: error.flatten(),
                });
            }
        }
        found
    }
}
