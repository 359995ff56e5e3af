#include "viewer/app/clearance_band.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

using namespace evenclose;

namespace {

Sweep clear_at(double mm) {
    Sweep sweep;
    sweep.contact = Contact::clear;
    sweep.spans = {{{0.0}, {200.0}, mm, mm + 0.04}};
    sweep.least_lower_mm = mm;
    sweep.least_upper_mm = mm + 0.04;
    sweep.least_at = {120.0};
    return sweep;
}

Sweep foul_between(double from, double to) {
    Sweep sweep;
    sweep.contact = Contact::foul;
    sweep.spans = {{{0.0}, {from}, 8.0, 9.0}, {{from}, {to}, 0.0, 0.0}, {{to}, {200.0}, 8.0, 9.0}};
    sweep.contacts = {{{from}, {to}}};
    sweep.least_at = {0.5 * (from + to)};
    return sweep;
}

} // namespace

TEST_CASE("a foul over 0.02 mm of a 200 mm stroke takes a cell in a band of any size") {
    const Sweep sweep = foul_between(77.31, 77.33);
    for (std::size_t cells : {1U, 7U, 100U, 371U, 5000U}) {
        CAPTURE(cells);
        const auto band = band_cells(sweep, {0.0}, {200.0}, cells, 5.0, 25.0);
        REQUIRE(band.size() == cells);
        CHECK(std::count_if(band.begin(), band.end(), [](const BandCell& c) { return c.shade == BandShade::foul; }) >=
              1);
    }
    const auto band = band_cells(sweep, {0.0}, {200.0}, 200, 5.0, 25.0);
    CHECK(band[77].shade == BandShade::foul);
    CHECK(band[76].shade == BandShade::near);
    CHECK(band[78].shade == BandShade::near);
}

TEST_CASE("a touch at a single travel, at either end as well, is seen") {
    for (double at : {0.0, 100.0, 200.0}) {
        CAPTURE(at);
        Sweep sweep = clear_at(30.0);
        sweep.contact = Contact::foul;
        sweep.contacts = {{{at}, {at}}};
        const auto band = band_cells(sweep, {0.0}, {200.0}, 50, 5.0, 25.0);
        CHECK(std::count_if(band.begin(), band.end(), [](const BandCell& c) { return c.shade == BandShade::foul; }) ==
              1);
    }
}

TEST_CASE("shades follow the certified lower bound, borders as the limits say") {
    struct Row {
        double least;
        BandShade shade;
    };
    for (const Row& row : {Row{0.0, BandShade::tight}, Row{4.99, BandShade::tight}, Row{5.0, BandShade::near},
                           Row{24.99, BandShade::near}, Row{25.0, BandShade::clear}, Row{900.0, BandShade::clear}}) {
        CAPTURE(row.least);
        const auto band = band_cells(clear_at(row.least), {0.0}, {200.0}, 3, 5.0, 25.0);
        for (const BandCell& cell : band) {
            CHECK(cell.shade == row.shade);
            CHECK(cell.least_mm == row.least);
        }
    }
}

TEST_CASE("a cell shows the worst of all spans that reach into it") {
    Sweep sweep;
    sweep.contact = Contact::clear;
    sweep.spans = {{{0.0}, {99.0}, 40.0, 41.0}, {{99.0}, {101.0}, 2.0, 2.1}, {{101.0}, {200.0}, 12.0, 12.1}};
    const auto band = band_cells(sweep, {0.0}, {200.0}, 4, 5.0, 25.0);
    CHECK(band[0].shade == BandShade::clear);
    CHECK(band[1].shade == BandShade::tight);
    CHECK(band[2].shade == BandShade::tight);
    CHECK(band[3].shade == BandShade::near);
}

TEST_CASE("where nothing was swept nothing is claimed") {
    Sweep sweep;
    CHECK(band_cells(sweep, {0.0}, {200.0}, 2, 5.0, 25.0)[0].shade == BandShade::unknown);
    sweep = clear_at(30.0); // swept to 200, drawn to 400
    const auto band = band_cells(sweep, {0.0}, {400.0}, 4, 5.0, 25.0);
    CHECK(band[1].shade == BandShade::clear);
    CHECK(band[2].shade == BandShade::unknown);
    CHECK(band[3].shade == BandShade::unknown);
    CHECK(band[3].least_mm == std::numeric_limits<double>::infinity());
}

TEST_CASE("worst pairs first: longer fouls, shorter ones, touching, then by clearance, unknown last") {
    const Sweep unknown;
    Sweep touching = clear_at(0.0);
    touching.contact = Contact::touching;
    const Sweep wide = clear_at(40.0);
    const Sweep tight = clear_at(1.2);
    const Sweep shorter = foul_between(10.0, 10.8);
    const Sweep longer = foul_between(50.0, 90.0);
    CHECK(worst_first({&unknown, &wide, &shorter, &tight, &touching, &longer}) ==
          std::vector<std::size_t>{5, 2, 4, 3, 1, 0});
}

TEST_CASE("a pair's trouble is where its contact begins, or where it is closest") {
    CHECK(worst_travel(foul_between(50.0, 90.0)).mm == 50.0);
    CHECK(worst_travel(clear_at(3.0)).mm == 120.0);
}
