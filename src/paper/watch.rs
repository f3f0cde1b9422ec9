//! Watching long work: how far it has come, and whether it shall go on.

use std::ops::ControlFlow;

/// Is told how far long work has come, and says whether it shall go on. Breaking it off leaves nothing behind.
pub trait Watch {
    /// So much is done of so much.
    fn come(&mut self, done: u64, of: u64) -> ControlFlow<()>;
}

/// Nobody watches: the work goes on to its end.
#[derive(Debug, Clone, Copy, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn come(&mut self, _done: u64, _of: u64) -> ControlFlow<()> {
        ControlFlow::Continue(())
    }
}

impl<F: FnMut(u64, u64) -> ControlFlow<()>> Watch for F {
    fn come(&mut self, done: u64, of: u64) -> ControlFlow<()> {
        self(done, of)
    }
}
