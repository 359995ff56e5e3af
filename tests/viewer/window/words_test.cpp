#include "viewer/ui/words.hpp"

#include "viewer/ui/word_wrap.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

using namespace evenclose;

namespace {

// A font in which every character is 10 wide.
float ten_each(std::string_view words) { return 10.0F * static_cast<float>(characters_of(words).size()); }

std::vector<std::string> wrap(std::string_view words, int characters) {
    return wrapped_lines(words, 10.0F * static_cast<float>(characters), ten_each);
}

using Lines = std::vector<std::string>;

} // namespace

TEST_CASE("numbers carry their unit, in the system asked for, what is not there is a dash") {
    CHECK(number_words(12.5, "mm", UnitSystem::metric) == "12.5 mm");
    CHECK(number_words(12.7, "mm", UnitSystem::inch) == "1/2 in");
    CHECK(number_words(0.00219, "rad", UnitSystem::inch) == "2.19 mrad");
    CHECK(number_words(360, "s", UnitSystem::inch) == "6 min");
    CHECK(number_words(4.0, "", UnitSystem::metric) == "4");
    CHECK(number_words(0.125, "", UnitSystem::metric) == "0.125");
    CHECK(number_words(85.0, "%", UnitSystem::metric) == "85 %");
    CHECK(number_words(std::nullopt, "mm", UnitSystem::metric) == "–");
    CHECK(number_words(std::numeric_limits<double>::quiet_NaN(), "mm", UnitSystem::metric) == "–");
    CHECK(number_words(std::numeric_limits<double>::infinity(), "mm", UnitSystem::metric) == "–");
}

TEST_CASE("a place on the stroke is told as one travel or as from and to with one unit") {
    CHECK(travel_words(std::nullopt, UnitSystem::metric).empty());
    CHECK(travel_words(TravelInterval{{12.0}, {12.0}}, UnitSystem::metric) == "at 12 mm");
    CHECK(travel_words(TravelInterval{{54.56}, {107.44}}, UnitSystem::metric) == "54.6 – 107.4 mm");
    CHECK(travel_words(TravelInterval{{25.4}, {50.8}}, UnitSystem::inch) == "1 – 2 in");
    CHECK(grouped(7) == "7");
    CHECK(grouped(1234567) == "1 234 567");
    CHECK(grouped(100000) == "100 000");
    CHECK(loud(Verdict::no_go) == "NO-GO");
    CHECK(file_name("/shop/molds/dune.set-up.json") == "dune.set-up.json");
}

TEST_CASE("lines break at blanks, keep line ends, and never exceed the room") {
    CHECK(wrap("", 10).empty());
    CHECK(wrap("hands out before it moves", 10) == Lines{"hands out", "before it", "moves"});
    CHECK(wrap("one\ntwo", 10) == Lines{"one", "two"});
    CHECK(wrap("one\n\ntwo", 10) == Lines{"one", "", "two"});
    CHECK(wrap("  many   blanks ", 20) == Lines{"many blanks"});
    for (int room = 1; room < 40; ++room) {
        for (const std::string& line : wrap("Shim 1.09 mm under right jack's foot; extraordinarily so.", room)) {
            CHECK(ten_each(line) <= 10.0F * static_cast<float>(std::max(room, 1)));
        }
    }
}

TEST_CASE("a number is not torn apart, nor from its fraction and unit") {
    CHECK(wrap("so that is ~0.043 in: more", 17) == Lines{"so that is", "~0.043 in: more"});
    CHECK(wrap("closes at 4 5/16 in there", 14) == Lines{"closes at", "4 5/16 in", "there"});
    CHECK(wrap("over 52.87 mm", 9) == Lines{"over", "52.87 mm"});
    CHECK(wrap("two in hand", 6) == Lines{"two in", "hand"}); // "in" after a word is a word
}

TEST_CASE("a word wider than the room is broken between characters, not inside one") {
    CHECK(wrap("abcdefgh", 3) == Lines{"abc", "def", "gh"});
    CHECK(wrap("äöüß", 2) == Lines{"äö", "üß"});
    CHECK(wrap("x", 0) == Lines{"x"}); // a character is the least a line holds
}

TEST_CASE("characters of UTF-8, spoiled ones replaced") {
    CHECK(characters_of("a×–") == U"a×–");
    CHECK(characters_of("\U0001F528") == U"\U0001F528");
    CHECK(characters_of("a\xC3") == U"a\uFFFD");
    CHECK(characters_of("\x80z") == U"\uFFFDz");
    CHECK(without_last_character("a×") == "a");
    CHECK(without_last_character("").empty());
}
