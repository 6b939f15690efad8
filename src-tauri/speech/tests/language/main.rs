//! The spoken language from outside: what is understood of what is said and of what is printed.

mod contexts;
mod dialogue;
mod fuzz;
mod notation;
mod numbers;
mod prior;
mod table;
