"""The kinds of array that the acoustics work on, double precision throughout."""

import numpy as np
from numpy.typing import NDArray

Reals = NDArray[np.float64]
Complexes = NDArray[np.complex128]
Wholes = NDArray[np.int64]
Truths = NDArray[np.bool_]
