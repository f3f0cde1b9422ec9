//! Stored pictures and photos as they come from the book, and ready for the screen.

use crate::book::Snapshot;
use crate::paper::picture::Image;
use crate::paper::pinned::Pictures;
use crate::studio::{DesignId, PaperDesign, PictureId, What};
use crate::window::Request;
use iced::widget::image::Handle;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Pictures at hand.
#[derive(Debug, Default)]
pub(in crate::window::screen) struct Gallery {
    pub(super) pictures: Pictures,
    /// The stored files, to be carried along.
    pub(super) files: BTreeMap<PictureId, Vec<u8>>,
    photos: BTreeMap<DesignId, Option<Arc<Image>>>,
    asked_pictures: BTreeSet<PictureId>,
    asked_photos: BTreeSet<DesignId>,
    names: Option<Arc<Vec<(PictureId, String)>>>,
    handles: Vec<(Arc<Image>, Handle)>,
}

impl Gallery {
    /// Forgets what may have changed with the book.
    pub(super) fn follow(&mut self, snapshot: &Snapshot, designs_changed: bool) {
        let same = self.names.as_ref().is_some_and(|names| Arc::ptr_eq(names, &snapshot.pictures));
        if !same {
            self.names = Some(Arc::clone(&snapshot.pictures));
            self.pictures.clear();
            self.files.clear();
            self.asked_pictures.clear();
        }
        if designs_changed {
            self.photos.clear();
            self.asked_photos.clear();
        }
    }

    /// What must be asked of the book to draw a paper of these designs.
    pub(super) fn wanted(&mut self, paper: &PaperDesign, designs: impl IntoIterator<Item = DesignId>) -> Vec<Request> {
        let mut requests = Vec::new();
        for pinned in &paper.pinned {
            if let What::Picture(id) = pinned.what
                && !self.pictures.contains_key(&id)
                && self.asked_pictures.insert(id)
            {
                requests.push(Request::Picture(id));
            }
        }
        if paper.pinned.iter().any(|pinned| pinned.what == What::Photo) {
            for id in designs {
                if !self.photos.contains_key(&id) && self.asked_photos.insert(id) {
                    requests.push(Request::Photo(id));
                }
            }
        }
        requests
    }

    /// Everything that was asked for has come.
    pub(super) fn is_complete(&self) -> bool {
        self.asked_photos.iter().all(|id| self.photos.contains_key(id))
            && self.asked_pictures.iter().all(|id| self.files.contains_key(id))
    }

    /// A stored picture came; true when it can be shown.
    pub(super) fn picture_came(&mut self, id: PictureId, png: Vec<u8>) -> bool {
        let read = Image::read(&png);
        let _ = self.files.insert(id, png);
        read.is_ok_and(|image| {
            let _ = self.pictures.insert(id, Arc::new(image));
            true
        })
    }

    /// A photo came, or there is none.
    pub(super) fn photo_came(&mut self, id: DesignId, png: Option<&[u8]>) {
        let image = png.and_then(|png| Image::read(png).ok()).map(Arc::new);
        let _ = self.photos.insert(id, image);
    }

    /// The photo of a design, where it has come.
    pub(super) fn photo(&self, id: DesignId) -> Option<Arc<Image>> {
        self.photos.get(&id).cloned().flatten()
    }

    /// A picture ready for the screen.
    pub(super) fn handle(&mut self, image: &Arc<Image>) -> Option<Handle> {
        if let Some((_, handle)) = self.handles.iter().find(|(known, _)| Arc::ptr_eq(known, image)) {
            return Some(handle.clone());
        }
        let pixels = image.to_pixels()?;
        let handle = Handle::from_rgba(pixels.width(), pixels.height(), pixels.into_raw());
        // Enough for every picture of a paper; the oldest are forgotten.
        if self.handles.len() > 40 {
            let _ = self.handles.remove(0);
        }
        self.handles.push((Arc::clone(image), handle.clone()));
        Some(handle)
    }
}
