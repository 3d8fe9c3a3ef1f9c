//! Uses of an unknown name that nothing fits.

use super::CODE;
use crate::finding::{Finding, Place, Related};
use crate::inference::Contradiction;
use crate::line::LineId;

/// Uses of unknown names that nothing fits, whatever the names stand for.
pub(crate) fn contradiction(line: LineId, text: &str, of: &Contradiction) -> Finding {
    let names = of.names.join(" and ");
    let mut uses = of.uses.clone();
    uses.sort_by_key(|(place, _)| (place.line != line, place.span.start));
    let here = || uses.iter().filter(|(place, _)| place.line == line);
    let alone = here()
        .map(|(place, dimension)| Some((place.span.text(text), (*dimension)?)))
        .collect::<Option<Vec<_>>>()
        .filter(|alone| alone.len() == uses.len() && alone.len() > 1 && of.names.len() == 1);
    let message = match alone {
        Some(alone) => {
            let needs: Vec<String> = alone
                .iter()
                .map(|(source, dimension)| {
                    format!(
                        "in {source} it has to be {}",
                        dimension.describe_with_article()
                    )
                })
                .collect();
            format!(
                "nothing that {names} stands for fits this line: {}.",
                needs.join(", ")
            )
        }
        None => {
            let places: Vec<&str> = here().map(|(place, _)| place.span.text(text)).collect();
            format!(
                "whatever {names} stands for, this does not come out right: {}.",
                places.join("; ")
            )
        }
    };
    let place = here().next_back().or(uses.last()).map(|(place, _)| *place);
    let place = place.unwrap_or(Place {
        line,
        span: Default::default(),
    });
    let mut finding = Finding::new(&CODE, place, message);
    finding.related = uses
        .iter()
        .map(|(place, dimension)| Related {
            place: *place,
            message: match dimension {
                Some(dimension) => {
                    format!("{names} as {}", dimension.describe_with_article())
                }
                None => format!("a use of {names}"),
            },
        })
        .collect();
    finding
}
