//! Reading what people type: `600`, `600 mm`, `0,6`.
