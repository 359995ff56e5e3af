#include "checks/report/profile_csv.hpp"

#include "checks/report/text_table.hpp"
#include "tests/checks/block_setup.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <sstream>
#include <string>
#include <vector>

namespace evenclose {
namespace {

std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> cells(1);
    for (const char letter : line) {
        if (letter == ',') {
            cells.emplace_back();
        } else if (letter != '\r') {
            cells.back() += letter;
        }
    }
    return cells;
}

} // namespace

TEST_CASE("a CSV field is quoted as RFC 4180, section 2 says") {
    CHECK(csv_line({"plain"}) == "plain\r\n");
    CHECK(csv_line({"a,b"}) == "\"a,b\"\r\n");
    CHECK(csv_line({"say \"so\""}) == "\"say \"\"so\"\"\"\r\n");
    CHECK(csv_line({"two\nlines"}) == "\"two\nlines\"\r\n");
}

TEST_CASE("profile: a bolt over the platen's end comes nearer by as much as the platen rises") {
    test::BlockSetup blocks;
    // Its underside at z 455: 115 over the platen's face at travel 0, beside the mold. The stroke ends closed at 100.
    blocks.press.members.push_back(test::bolt("bolt", {470, -200, 460}, {470, 200, 460}, 10));
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    const CheckResults results = run_checks(setup, assembly, {{"travel", "level"}, 1}, progress);
    const std::string csv = profile_csv(assembly, results);
    std::istringstream lines(csv);
    std::string line;
    std::getline(lines, line);
    const std::vector<std::string> head = split(line);
    const auto bolt = std::find_if(head.begin(), head.end(), [](const std::string& name) {
        return name.find("bolt") != std::string::npos && name.find("platen") != std::string::npos;
    });
    REQUIRE(bolt != head.end());
    const auto column = static_cast<std::size_t>(bolt - head.begin());
    double before = 0;
    int near = 0;
    while (std::getline(lines, line)) {
        const std::vector<std::string> cells = split(line);
        REQUIRE(cells.size() == head.size());
        const double from = std::atof(cells[0].c_str());
        const double to = std::atof(cells[1].c_str());
        CHECK(from == doctest::Approx(before));
        CHECK(to > from);
        before = to;
        CHECK(std::abs(std::atof(cells[3].c_str())) < 1e-9); // level
        const double least = std::atof(cells[column].c_str());
        const double truth = 115 - to;
        CHECK(least <= truth + 1e-9);
        if (truth < 25) {
            CHECK(least >= truth - 0.06 - (to - from));
            ++near;
        }
    }
    CHECK(near > 0);
    CHECK(before == doctest::Approx(assembly.last.mm));
}

} // namespace evenclose
