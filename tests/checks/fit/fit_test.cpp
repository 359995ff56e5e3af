#include "checks/fit/fit.hpp"

#include "checks/check_list.hpp"
#include "checks/report/fit_report.hpp"
#include "checks/report/text_table.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// The block press, its mold `taller_mm` taller than the 160 that fit 260 of daylight.
Fit fit_of(double taller_mm) {
    BlockSetup blocks;
    BlockSetup::half(blocks.mold.lower, {-350, -100, -taller_mm}, {350, 100, 80});
    blocks.mold.shut_height_mm = 160 + taller_mm;
    Progress progress;
    return fit(blocks.made(), std::make_shared<const Mold>(blocks.mold), progress);
}

} // namespace

TEST_CASE("a mold of blocks fits, or is stopped by as much as it is too tall") {
    const Fit good = fit_of(0);
    CHECK(good.faults.empty());
    CHECK(good.verdict != Verdict::no_go);
    CHECK(good.mold == "block mold");
    // Sandwich 80 + 10 + 70 = 160 under 260 of daylight: 130 more is 30 too many.
    const Fit tall = fit_of(130);
    REQUIRE(tall.verdict == Verdict::no_go);
    REQUIRE(tall.first);
    CHECK(tall.first->check == "daylight");
    CHECK(within(*tall.first->value, -30, 1e-9));
    CHECK(tall.not_asked.front() == "stroke"); // the next of the list
    CHECK(std::find(tall.not_asked.begin(), tall.not_asked.end(), "travel") != tall.not_asked.end());
}

TEST_CASE("a mold is asked alone, whatever stands in the set-up that the limits come from") {
    BlockSetup blocks;
    Setup like = blocks.made();
    like.openings.push_back(like.openings.front());
    like.intermediate_platens.push_back({blocks.press.platen, true, {}});
    Progress progress;
    const Fit alone = fit(like, std::make_shared<const Mold>(blocks.mold), progress, 1);
    CHECK(alone.faults.empty());
    CHECK(alone.verdict == fit_of(0).verdict);
}

TEST_CASE("the first stop is the first told of one check, or the earliest on the stroke") {
    Finding late;
    late.check = "travel";
    late.verdict = Verdict::no_go;
    late.travel = TravelInterval{{80}, {90}};
    Finding early = late;
    early.travel = TravelInterval{{20}, {30}};
    Finding warned = early;
    warned.verdict = Verdict::marginal;
    warned.travel = TravelInterval{{0}, {1}};
    CHECK(first_stop({warned, late, early}).travel->from.mm == 20);
    early.travel.reset();
    CHECK(first_stop({late, early}).travel->from.mm == 80);
    CHECK_THROWS((void)first_stop({warned}));
}

TEST_CASE("a folder of molds: the same lines for any number of threads, broken ones among them") {
    const TemporaryFolder folder;
    std::vector<std::filesystem::path> files;
    for (int i = 0; i < 12; ++i) {
        const double height = i % 5 == 4 ? -1 : 20 + 30 * i; // a fault; the tall ones do not fit
        files.push_back(folder.write(
            fmt::format("m{:02}.mold.json", i),
            fmt::format(R"({{ "evenclose": "mold", "version": 1, "name": "m{}", "lower": {{ "block": [700, 200, {}] }},
                             "upper": {{ "block": [700, 200, 70] }},
                             "stack": {{ "plies": [ {{ "thickness": 10, "grain": "along" }} ] }} }})",
                        i, height)));
    }
    files.push_back(folder.path() / "nowhere.mold.json");
    BlockSetup blocks;
    const Setup& like = blocks.made();
    Progress progress;
    const std::vector<Fit> fits = fit_all(like, files, 1, progress);
    CHECK(progress.fraction() == 1);
    REQUIRE(fits.size() == files.size());
    for (std::size_t i = 0; i < fits.size(); ++i) {
        CAPTURE(i);
        CHECK(fits[i].file == files[i].string());
        CHECK(fits[i].faults.empty() == (i < 12 && i % 5 != 4));
        if (i < 12 && i % 5 != 4) {
            const double room = 260 - (20 + 30.0 * static_cast<double>(i)) - 80;
            const double travel = room + 0.0; // nothing is squeezed: what is room when open is travel when closing
            CHECK((fits[i].verdict == Verdict::no_go) == (room < 0 || travel > 150)); // and the jacks end after 150
            if (room < 0) {
                CHECK(within(*fits[i].first->value, room, 1e-9));
            }
        }
    }
    const std::string json = fit_json(like, fits);
    CHECK(fit_json(like, fit_all(like, files, 2, progress)) == json);
    CHECK(fit_json(like, fit_all(like, files, 7, progress)) == json);
    const std::string text = fit_text(like, fits);
    CHECK(text.find("Molds in block press") == 0);
    CHECK(text.find("cannot be read") != std::string::npos);
    CHECK(text.find("-1 is no length") != std::string::npos);
}

TEST_CASE("a table keeps its columns, wraps its last one, CSV quotes as RFC 4180 says") {
    TextTable table{{"mold", "n", "what"}, {{"Ähre", "7", "a b"}, {"x", "12", ""}}, {1}};
    CHECK(table.text(80) == "mold   n  what\nÄhre   7  a b\nx     12\n");
    // RFC 4180, section 2, rules 6 and 7.
    CHECK(csv_line({"aaa", "b \r\nbb", "c\"cc", "", "d,d"}) == "aaa,\"b \r\nbb\",\"c\"\"cc\",,\"d,d\"\r\n");
    CHECK(csv_line({"", "a"}) == ",a\r\n");
}
