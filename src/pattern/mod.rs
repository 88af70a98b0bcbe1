//! pattern
