//! The shipped catalog, a shop's own on top of it, and every fault at its place.

#![cfg(test)]

mod faults;
mod files;
mod lookups;
mod manual;
mod overrides;
mod practice;
mod published;
mod shipped;
