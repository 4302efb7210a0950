"""One mechanism behind every figure: inputs with keys, a graph of steps, intervals."""
