#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/viewer/ran.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

namespace evenclose {
namespace {

using test::Ran;

Ran evenclose_with(const std::vector<std::string>& words) { return test::ran(words); }

std::size_t count_of(const std::string& text, const std::string& word) {
    std::size_t count = 0;
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
        ++count;
    }
    return count;
}

const std::string kDemo = test::demo("crescent.set-up.json");

} // namespace

TEST_CASE("report: the demo on one page with its pictures, and as PDF") {
    const test::TemporaryFolder folder;
    const std::string html = (folder.path() / "crescent.html").string();
    const Ran ran = evenclose_with({"report", kDemo, "-o", html});
    CAPTURE(ran.err);
    REQUIRE(ran.exit == 0);
    const std::string text = test::bytes_of(html);
    CHECK(count_of(text, "<img ") == 9); // open, closed, tightest, tilt, gap, cut, curvature, pressure, frame
    CHECK(count_of(text, "data:image/png;base64,iVBORw0KGgo") == 9);
    CHECK(count_of(text, "<svg ") >= 3); // clearance, tilt, torque
    CHECK(count_of(text, "(set-up, ") == 1);

    const std::string pdf = (folder.path() / "crescent.pdf").string();
    const Ran second = evenclose_with({"report", kDemo, "-o", pdf, "--no-pictures", "--paper", "letter", "--json"});
    CHECK(second.exit == 0);
    CHECK(second.out.find("\"evenclose-findings-1\"") != std::string::npos);
    CHECK(test::bytes_of(pdf).starts_with("%PDF"));
}

TEST_CASE("report and profile: what cannot be written, or is no kind of report, is one line") {
    const Ran kind = evenclose_with({"report", kDemo, "-o", "report.doc"});
    CHECK(kind.exit == 64);
    CHECK(kind.err == "evenclose: -o report.doc: a report is written as .html or .pdf\n");
    const Ran nowhere = evenclose_with({"report", kDemo, "-o", "/nowhere/at/all.html", "--no-pictures"});
    CHECK(nowhere.exit == 2);
    CHECK(std::count(nowhere.err.begin(), nowhere.err.end(), '\n') == 1);
    CHECK(evenclose_with({"report", "nowhere.json", "-o", "x.html"}).exit == 2);
    CHECK(evenclose_with({"report", kDemo, "-o", "x.html", "--paper", "A5"}).exit == 64);
    CHECK(evenclose_with({"profile", kDemo, "-o", "/nowhere/at/all.csv"}).exit == 2);
    const Ran table = evenclose_with({"profile", kDemo});
    CHECK(table.exit == 0);
    CHECK(table.out.starts_with("travel from (mm),travel to (mm),"));
    CHECK(std::count(table.out.begin(), table.out.end(), '\n') > 10);
}

} // namespace evenclose
