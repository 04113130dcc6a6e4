// The purest colours: light of one wavelength.
#pragma once

#include "compiler/colour/chromaticity.hpp"

namespace tallow::colour {

// Before and behind these the spectral locus hardly moves.
inline constexpr int spectral_first_nm = 380, spectral_last_nm = 700;

// Light of one wavelength: of spectral_first_nm..spectral_last_nm, a multiple of observer_step_nm.
Chromaticity spectral(int nm);

// The nearest chromaticity in u′v′ that a light can have: the same, unless it lies beyond the spectral locus
// and the purple line. Between the wavelengths known the locus is taken for straight, up to .002 inside it.
Chromaticity nearest_light(Chromaticity c);

}  // namespace tallow::colour
