//! Photos of designs: asked of the book, read and made small on a thread, kept until the designs change.

use super::Message;
use crate::book::{BookError, Snapshot};
use crate::paper::picture::Image;
use crate::studio::{BookDesign, DesignId};
use crate::window::desk::Request;
use crate::window::screen::Action;
use crate::window::work;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Which papers a photo is made small for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum For {
    /// A certificate.
    Certificate,
    /// A price list.
    List,
}

impl For {
    fn place_mm(self) -> [f64; 2] {
        match self {
            Self::Certificate => crate::paper::statement::PHOTO_MM,
            Self::List => crate::paper::fair_list::PHOTO_MM,
        }
    }
}

/// The photos of one use.
#[derive(Debug)]
pub(super) struct Photos {
    of: For,
    /// None while one is on its way, and where there is none that can be read.
    known: BTreeMap<DesignId, Option<Arc<Image>>>,
    /// Those on their way.
    coming: BTreeSet<DesignId>,
    designs: Option<Arc<Vec<BookDesign>>>,
}

impl Photos {
    pub(super) fn new(of: For) -> Self {
        Self { of, known: BTreeMap::new(), coming: BTreeSet::new(), designs: None }
    }

    /// The designs of the book changed: their photos may have, too. True where some were let go.
    pub(super) fn follow(&mut self, snapshot: &Snapshot) -> bool {
        let same = self.designs.as_ref().is_some_and(|designs| Arc::ptr_eq(designs, &snapshot.designs));
        if same {
            return false;
        }
        self.designs = Some(Arc::clone(&snapshot.designs));
        let had = !self.known.is_empty();
        self.known.clear();
        self.coming.clear();
        had
    }

    /// Asks for the photos of these designs, each once.
    pub(super) fn want(&mut self, wanted: impl IntoIterator<Item = DesignId>, snapshot: &Snapshot) -> Action<Message> {
        let mut asked = Vec::new();
        for id in wanted {
            if !self.known.contains_key(&id) && snapshot.design(id).is_some_and(|book| book.has_photo) {
                let _ = self.known.insert(id, None);
                let _ = self.coming.insert(id);
                asked.push(Action::Ask(Request::Photo(id)));
            }
        }
        if asked.is_empty() { Action::None } else { Action::Many(asked) }
    }

    /// The book's answer: the photo is read on a thread.
    pub(super) fn answered(&self, id: DesignId, answer: Result<Option<Vec<u8>>, BookError>) -> Action<Message> {
        if !self.coming.contains(&id) {
            return Action::None;
        }
        let of = self.of;
        let reading = work::apart(move || {
            let png = answer.map_err(|error| error.to_string())?;
            let read =
                |png: Vec<u8>| Image::photo(&png, of.place_mm()).map(Arc::new).map_err(|error| error.to_string());
            png.map(read).transpose()
        });
        Action::Run(reading.map(move |done| Message::Photo(of, id, done.and_then(|read| read))))
    }

    /// A photo was read; true where no other is on its way.
    pub(super) fn read(&mut self, id: DesignId, image: Option<Arc<Image>>) -> bool {
        if let Some(known) = self.known.get_mut(&id) {
            *known = image;
        }
        let _ = self.coming.remove(&id);
        self.coming.is_empty()
    }

    /// A photo that stands ready.
    pub(super) fn get(&self, id: DesignId) -> Option<&Arc<Image>> {
        self.known.get(&id)?.as_ref()
    }
}
