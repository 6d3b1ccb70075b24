//! The one integration binary: everything that needs the whole house, or the program itself.

mod engine;
mod layers;
mod standards;
