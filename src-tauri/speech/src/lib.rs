//! Sound in, a structured reading out.
