"""Commands that weigh and measure: mix, reduce, blend, gauge, parts."""
