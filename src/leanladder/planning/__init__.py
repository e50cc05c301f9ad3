"""From a Session to its Ladder: caps, pace and heat in agreement, pressures, warnings."""
