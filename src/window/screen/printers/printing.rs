//! What the system says of its printers.

use crate::exchange::print_queue;
use crate::window::work::apart;
use iced::Task;

/// What the system said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum System {
    /// It was not asked yet.
    NotAsked,
    /// It is being asked.
    Asked,
    /// Its printers.
    Known(Vec<String>),
    /// Why they are not known, a sentence.
    Silent(String),
}

impl System {
    /// Asks it on a thread of its own, unless it is being asked already.
    pub(super) fn ask(&mut self) -> Option<Task<Result<Vec<String>, String>>> {
        if *self == Self::Asked {
            return None;
        }
        *self = Self::Asked;
        let asked = apart(|| print_queue::printers().map_err(|problem| problem.to_string()));
        Some(asked.map(|told| told.and_then(|told| told)))
    }

    /// What it answered.
    pub(super) fn heard(&mut self, told: Result<Vec<String>, String>) {
        *self = match told {
            Ok(names) => Self::Known(names),
            Err(reason) => Self::Silent(reason),
        };
    }
}
