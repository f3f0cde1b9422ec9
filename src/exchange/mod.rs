//! Files in and out.

pub mod design_file;
