//! count
