//! What a statement asks of its expressions, and the names that only it knows.

use haunch_quantity::Dimension;
use haunch_syntax::{BlockKind, ExpressionId, Statement, ValueBody};

use super::form::Form;
use super::reader::{Named, Reader, Scope, Shape};
use crate::expression::Locals;
use crate::state::Cell;
use crate::statements::expected;
use crate::value::Kind;

impl<'a> Reader<'a> {
    /// Gives the names that only this line knows their forms. A formula's arguments are solved for like
    /// undefined names.
    pub(super) fn bind(&mut self, scope: &mut Scope<'a>, cell: &Cell, block: Option<BlockKind>) {
        if let Statement::Formula(formula) = &cell.tree.statement {
            for own in &formula.parameters {
                let unknown = self.fresh();
                scope.bound.push((own.text.clone(), Form::unknown(unknown)));
                self.named.push(Named {
                    name: own.text.clone(),
                    unknown,
                    spans: vec![own.span],
                    is_truth: false,
                });
            }
            return;
        }
        let mut locals = Locals::default();
        expected::add_locals(&cell.tree, block, self.state, cell, &mut locals);
        // The load cases of a combination are of one kind that has no dimension of its own.
        let case = Form::unknown(self.fresh());
        let mut bound: Vec<_> = locals
            .into_iter()
            .map(|(name, local)| match local.kind {
                Kind::Quantity(dimension) => (name, Form::known(dimension)),
                _ => (name, case.clone()),
            })
            .collect();
        bound.sort_by(|(one, _), (other, _)| one.cmp(other));
        if let Statement::Combination(_) = &cell.tree.statement {
            // No name, so that nothing else is one of it.
            bound.push(("".into(), case));
        }
        scope.bound = bound;
    }

    /// The equations of the statement itself.
    pub(super) fn asked(&mut self, scope: &Scope<'_>, shapes: &[Shape], block: Option<BlockKind>) {
        let tree = scope.tree;
        let of = |id: ExpressionId| shapes.get(id.0 as usize).unwrap_or(&Shape::Nothing);
        let place = |id: ExpressionId| scope.place(scope.span(id));
        let by_place =
            expected::asked(&tree.statement, block).chain(expected::of_load(&tree.statement));
        for (id, dimension) in by_place {
            self.has_to_be(of(id), dimension, place(id));
        }
        let alike = |reader: &mut Self, one: ExpressionId, other: ExpressionId| {
            if let (Shape::Form(form), Shape::Form(wanted)) = (of(one), of(other)) {
                let span = scope.span(one).cover(scope.span(other));
                reader.alike(form, wanted, scope.place(span));
            }
        };
        let shown = match &tree.statement {
            Statement::Value(value) => {
                if let ValueBody::Sizing(sizing) = &value.body {
                    alike(self, sizing.from, sizing.to);
                    alike(self, sizing.step, sizing.to);
                }
                match (&value.body, &value.shown) {
                    (ValueBody::Expression(id), Some(shown)) => Some((*id, shown)),
                    _ => None,
                }
            }
            Statement::Formula(formula) => {
                let shown = formula.shown.as_ref();
                shown.map(|shown| (formula.body, shown))
            }
            Statement::Expect(expect) => {
                alike(self, expect.actual, expect.expected);
                // Beside a quantity with a unit a tolerance may be a share as well.
                if let (Some(tolerance), Some(Form { known, .. })) = (
                    expect.tolerance,
                    of(expect.actual).form().filter(|own| !own.is_open()),
                ) && known.is_ratio()
                {
                    self.has_to_be(of(tolerance), Dimension::RATIO, place(tolerance));
                }
                None
            }
            Statement::Verify(id) => {
                self.truth(scope, *id);
                None
            }
            Statement::Combination(combination) => {
                let case = scope.bound.iter().find(|(name, _)| name.is_empty());
                if let (Shape::Form(sum), Some((_, case))) = (of(combination.sum), case) {
                    self.alike(sum, case, place(combination.sum));
                }
                None
            }
            Statement::Load(load) => {
                if let haunch_syntax::LoadKind::Varying(from, to) = load.kind {
                    alike(self, from, to);
                }
                None
            }
            _ => None,
        };
        if let Some((id, shown)) = shown
            && let Some(dimension) = expected::shown_dimension(&shown.kind)
        {
            let span = scope.span(id).cover(shown.span);
            self.has_to_be(of(id), dimension, scope.place(span));
        }
    }
}
