// checks/print/plastic.hpp: what printed molds are made of.
//
// Density and glass temperature: PLA 1.24, PETG 1.27, ABS 1.04 g/cm3; 50 to 60, 75 to 85 and 100 to 105 degrees C
// (REFERENCE 14; the lower end is taken). Crushing of printed PLA by fill: Sci. Rep. 15:11759 (2025), table 4: 13.7 MPa at
// 20 % fill and 36.4 at 50 % with the weakest pattern; a straight line between, and below 20 % as the fill to the power
// 1.5 (an open-celled solid; L. J. Gibson & M. F. Ashby, Cellular Solids, sec. 5.3, from memory). PETG and ABS bear less:
// 0.75 and 0.7 of PLA (ratio of their yield strengths, from memory). Moduli of solid prints: PLA 3.0, PETG 2.0, ABS 2.0
// GPa (makers' data sheets, from memory; they spread by a third).
#pragma once

#include <string>
#include <vector>

namespace evenclose {

struct Plastic {
    const char* name;
    double density_kg_per_m3;
    double glass_C;         // softens from here
    double strength_of_pla; // crushing, as a share of PLA's
    double E_MPa;           // solid

    /// Crushing strength of a print with this fill, MPa, weakest pattern, short time. Needs: fill 0 to 1.
    [[nodiscard]] double crushes_at_MPa(double fill) const;
    /// How a print with this fill gives along its walls, MPa: E (w + (1 - w) fill^2), w the walls' share of its section
    /// (an open-celled solid, Gibson & Ashby as above, eq. 5.6; walls and fill strained alike). Needs: both 0 to 1.
    [[nodiscard]] double stiffness_MPa(double fill, double walls) const;
};

[[nodiscard]] const std::vector<Plastic>& plastics();
/// Capitals, blanks, '-' and '+' count nothing ("PET-G", "pla+"). Null if it is none of them.
[[nodiscard]] const Plastic* find_plastic(const std::string& word);

} // namespace evenclose
