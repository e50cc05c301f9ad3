"""Physical constants that no data file may change."""

GRAVITY_MPS2 = 9.80665  # standard gravity, CGPM 1901
STEFAN_BOLTZMANN = 5.670374e-8  # W/m2K4, CODATA 2018
KELVIN = 273.15  # 0 degC in K
SEA_LEVEL_BAR = 1.01325  # ISO 2533 standard atmosphere
