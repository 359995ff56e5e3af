#include "scene/documents/nearest_word.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace evenclose;

TEST_CASE("edit distance") {
    struct Row {
        const char* source;
        const char *a, *b;
        std::size_t distance;
    };
    const Row rows[] = {
        {"Levenshtein's usual example, three changes", "kitten", "sitting", 3},
        {"Damerau 1964: a swap of neighbours is one error", "daylight", "dayligth", 1},
        {"optimal string alignment, no letter touched twice: 3, where unrestricted swaps give 2", "ca", "abc", 3},
        {"by hand", "", "abc", 3},
        {"by hand", "lead", "lead", 0},
        {"by hand", "lead", "led", 1},
        {"by hand", "stroke", "strokes", 1},
    };
    for (const Row& row : rows) {
        CAPTURE(row.a);
        CAPTURE(row.source);
        CHECK(edit_distance(row.a, row.b) == row.distance);
        CHECK(edit_distance(row.b, row.a) == row.distance);
    }
}

TEST_CASE("the word that was most likely meant") {
    const std::string_view words[] = {"name", "thickness",     "to", "toe_radius", "closed_height",
                                      "rate", "rate_tolerance"};
    struct Row {
        const char *typed, *nearest;
    };
    const Row rows[] = {
        {"thicknes", "thickness"},
        {"thick", "thickness"},
        {"Thickness", "thickness"},
        {"closed-height", "closed_height"},
        {"closedheight", "closed_height"},
        {"nmae", "name"},
        {"rate_tolerence", "rate_tolerance"},
        {"rates", "rate"},
        {"elephant", ""},
        {"x", ""},
        {"", ""},
        {"at", ""},
    };
    for (const Row& row : rows) {
        CAPTURE(row.typed);
        CHECK(nearest_word(row.typed, words) == row.nearest);
    }
    CHECK(nearest_word(std::string(1'000'000, 'a'), words).empty());
}
