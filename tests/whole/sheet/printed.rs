//! Paper.
