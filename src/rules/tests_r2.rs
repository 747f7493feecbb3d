//! Tests of single rules that need more than their examples.
