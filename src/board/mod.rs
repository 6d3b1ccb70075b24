//! What shakmaty leaves open: a line with its history, static exchange, sacrifice, motifs, phase.
