//! A picture in, plug colour figures out.
