//! Files in and out.

mod base64;
pub mod demo;
pub mod design_file;
pub mod file_out;
pub mod fonts_found;
pub mod movement_csv;
pub mod movement_file;
pub mod outline_file;
pub mod paper_file;
pub mod print_queue;
pub mod stencil_photo;
pub mod table;
pub mod table_plan;
