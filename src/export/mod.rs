//! What leaves the program: files, tables, text.

pub mod assembly_sheet;
pub mod colour;
pub mod coupon_files;
pub mod drive_sheet;
pub mod folder;
pub mod gear_sheets;
pub mod glb;
pub mod markdown;
pub mod mesh_svg;
pub mod outputs;
pub mod plates_svg;
pub mod print_sheet;
pub mod report;
pub mod step;
pub mod step_files;
pub mod stl;
pub mod summary;
pub mod threemf;
pub mod whole_file; // one file, whole or not at all
