#include "checks/phrase.hpp"

#include <doctest/doctest.h>

namespace evenclose {

TEST_CASE("a length in a sentence is shown in the reader's unit") {
    const std::string sentence =
        "one end closes " + length_mark(38.1) + " after the other, " + length_mark(0.5) + " allowed";
    CHECK(shown(sentence) == "one end closes 38.1 mm after the other, 0.5 mm allowed");
    CHECK(shown(sentence, UnitSystem::inch) == "one end closes 1 1/2 in after the other, ~0.02 in allowed");
    CHECK(shown("nothing to show") == "nothing to show");
    CHECK(shown("") == "");
}

TEST_CASE("forces and pressures in a sentence follow the reader too") {
    const std::string sentence = force_mark(30000) + " on the deck, " + pressure_mark(1.0);
    CHECK(shown(sentence) == "30 kN on the deck, 1 MPa");
    CHECK(shown(sentence, UnitSystem::inch) == "6744 lbf on the deck, 145 psi"); // REFERENCE 10: 4.4482 N, 145.04 psi
    CHECK(shown("{lb:3} {N:} {{N:5}") == "{lb:3} {N:} {5 N");
}

TEST_CASE("a name that only looks like a mark is left as it is") {
    CHECK(shown("mold {mm:} and {mm:abc} and {mm:12") == "mold {mm:} and {mm:abc} and {mm:12");
    CHECK(shown("{mm:25.4}{mm:0}", UnitSystem::metric) == "25.4 mm0 mm");
}

} // namespace evenclose
