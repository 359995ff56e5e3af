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

TEST_CASE("a name that only looks like a mark is left as it is") {
    CHECK(shown("mold {mm:} and {mm:abc} and {mm:12") == "mold {mm:} and {mm:abc} and {mm:12");
    CHECK(shown("{mm:25.4}{mm:0}", UnitSystem::metric) == "25.4 mm0 mm");
}

} // namespace evenclose
