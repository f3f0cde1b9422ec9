//! `backup` and `restore`.

use super::arguments::{Backup, Restore};
use super::failure::Failure;
use super::session::Session;

pub(super) fn backup(session: &mut Session<'_>, task: Backup) -> Result<(), Failure> {
    let _ = (session, task);
    Ok(())
}

pub(super) fn restore(session: &mut Session<'_>, task: Restore) -> Result<(), Failure> {
    let _ = (session, task);
    Ok(())
}
