//! What the screen shows of the program's state. A view draws into a buffer and changes nothing.

pub mod actions;
pub mod contents;
pub mod figures;
pub mod frame;
pub mod head;
pub mod line;
pub mod list;
pub mod page;
pub mod plan;
pub mod rhymes;
pub mod said;
pub mod status;
pub mod strip;
pub mod variants;
pub mod warnings;
