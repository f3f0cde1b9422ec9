//! Steps added, moved, copied and taken out.

use super::change::{Change, GONE, new_step};
use super::draft::Draft;
use crate::studio::StepKind;

/// Makes a change of the route.
pub(super) fn make(draft: &mut Draft, change: &Change) -> Result<(), String> {
    let count = draft.content.design.steps.len();
    match *change {
        Change::AddStep(after, kind) => {
            let step = new_step(draft, kind)?;
            let place = after.map_or(0, |after| after.saturating_add(1)).min(count);
            let key = draft.fresh_key();
            draft.content.design.steps.insert(place, step);
            draft.step_keys.insert(place, key);
        }
        Change::MoveStep(from, to) => {
            if from >= count || to >= count {
                return Err(GONE.to_owned());
            }
            let step = draft.content.design.steps.remove(from);
            draft.content.design.steps.insert(to, step);
            let key = draft.step_keys.remove(from);
            draft.step_keys.insert(to, key);
        }
        Change::CopyStep(place) => {
            let copy = draft.content.design.steps.get(place).cloned().ok_or(GONE)?;
            let key = draft.fresh_key();
            draft.content.design.steps.insert(place + 1, copy);
            draft.step_keys.insert(place + 1, key);
        }
        Change::RemoveStep(place) => {
            let step = draft.content.design.steps.get(place).ok_or(GONE)?;
            if count == 1 {
                return Err("a route has one step or more".to_owned());
            }
            if matches!(step.kind, StepKind::Fire(_)) && draft.firings() == 1 {
                return Err("a route has one firing or more: add another before this one is taken out".to_owned());
            }
            let _ = draft.content.design.steps.remove(place);
            let key = draft.step_keys.remove(place);
            draft.forget_texts(key);
        }
        _ => {}
    }
    Ok(())
}
