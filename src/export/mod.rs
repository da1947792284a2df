pub mod stl;
