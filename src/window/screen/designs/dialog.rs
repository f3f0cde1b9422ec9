//! What lies over the page and wants an answer first: a new design, a copy, a file in or out, a photo.

use super::files::Existing;
use super::read;
use super::starter::suggested_code;
use crate::book::Snapshot;
use crate::studio::{Design, DesignCode, DesignId};

/// Which question is open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Question {
    /// Name and code of a new design.
    New,
    /// Name and code of a copy.
    Duplicate(DesignId),
    /// A design file to read.
    Import,
    /// Name and code for a design that was read.
    Imported(Box<Design>),
    /// Where to write a design file.
    Export,
    /// A photo to read.
    Photo(DesignId),
}

/// A field of a dialog.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DialogField {
    /// The name.
    Name,
    /// The code.
    Code,
    /// A path.
    Path,
}

/// An open dialog.
#[derive(Debug, Clone)]
pub struct Dialog {
    /// What is asked.
    pub question: Question,
    /// The name, raw.
    pub name: String,
    /// The code, raw.
    pub code: String,
    /// The code was typed, not suggested.
    pub own_code: bool,
    /// The path, raw.
    pub path: String,
    /// What is wrong; shown under the last field.
    pub problem: Option<String>,
    /// What is wrong with the name.
    pub name_problem: Option<String>,
    /// What is wrong with the code.
    pub code_problem: Option<String>,
    /// A file is being read or written.
    pub busy: bool,
    /// What to do about a file that is there.
    pub existing: Existing,
}

impl Dialog {
    /// A question with empty fields.
    pub fn new(question: Question) -> Self {
        Self {
            question,
            name: String::new(),
            code: String::new(),
            own_code: false,
            path: String::new(),
            problem: None,
            name_problem: None,
            code_problem: None,
            busy: false,
            existing: Existing::Keep,
        }
    }

    /// The name and code of a copy.
    pub fn duplicate(id: DesignId, design: &Design, snapshot: &Snapshot) -> Self {
        let name = format!("{}, second", design.name);
        let code = suggested_code(&name, snapshot);
        Self { name, code, ..Self::new(Question::Duplicate(id)) }
    }

    /// The name and code of a design that was read; its own where they are free.
    pub fn imported(design: Design, snapshot: &Snapshot) -> Self {
        let mut dialog = Self {
            name: design.name.clone(),
            code: design.code.to_string(),
            own_code: true,
            ..Self::new(Question::Imported(Box::new(design)))
        };
        let _ = dialog.read_code(snapshot);
        dialog
    }

    /// Asks for a code and name?
    pub fn asks_name(&self) -> bool {
        matches!(self.question, Question::New | Question::Duplicate(_) | Question::Imported(_))
    }

    /// A person typed.
    pub fn type_in(&mut self, field: DialogField, text: String, snapshot: &Snapshot) {
        self.problem = None;
        match field {
            DialogField::Name => {
                self.name = text;
                self.name_problem = None;
                if !self.own_code {
                    self.code = suggested_code(&self.name, snapshot);
                    self.code_problem = None;
                }
            }
            DialogField::Code => {
                self.code = text;
                self.own_code = true;
                let _ = self.read_code(snapshot);
            }
            DialogField::Path => {
                self.path = text;
                self.existing = Existing::Keep;
            }
        }
    }

    fn read_code(&mut self, snapshot: &Snapshot) -> Option<DesignCode> {
        let code = read::code(&self.code).and_then(|code| {
            if snapshot.designs.iter().any(|other| other.design.code == code) {
                Err(format!("{code} is taken: choose another code"))
            } else {
                Ok(code)
            }
        });
        self.code_problem = code.as_ref().err().cloned();
        code.ok()
    }

    /// Name and code, when both can be taken.
    pub fn named(&mut self, snapshot: &Snapshot) -> Option<(String, DesignCode)> {
        let name = read::name(&self.name);
        self.name_problem = name.as_ref().err().cloned();
        let code = self.read_code(snapshot);
        Some((name.ok()?, code?))
    }
}
