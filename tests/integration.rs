//! The one integration binary: everything that needs the whole house, or the program itself.

mod layers;
mod standards;
