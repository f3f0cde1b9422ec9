//! Files in and out.

pub mod demo;
pub mod design_file;
pub mod file_out;
pub mod table;
