//! progress
