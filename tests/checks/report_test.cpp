#include "checks/report/text_report.hpp"

#include <doctest/doctest.h>

namespace evenclose {

TEST_CASE("wrapped: lines break at blanks, letters of two bytes count as one column") {
    CHECK(wrapped("one two three", 2, 9) == "  one two\n  three\n");
    CHECK(wrapped("\u00b0\u00b0\u00b0\u00b0 ab", 0, 7) == "\u00b0\u00b0\u00b0\u00b0 ab\n");
    CHECK(wrapped("over 50 mm of", 0, 8) == "over\n50 mm of\n"); // a number stays with its unit
    CHECK(wrapped("unbreakably", 1, 5) == " unbreakably\n");
}

TEST_CASE("tally: only the verdicts that there are, worst first") {
    std::vector<Finding> findings(4);
    findings[0].verdict = Verdict::go;
    findings[1].verdict = Verdict::no_go;
    findings[2].verdict = Verdict::go;
    findings[3].verdict = Verdict::not_checked;
    CHECK(tally(findings) == "1 no-go, 1 not checked, 2 go");
    CHECK(worst_of(findings) == Verdict::no_go);
    sort_worst_first(findings);
    CHECK(findings[0].verdict == Verdict::no_go);
    CHECK(findings[1].verdict == Verdict::not_checked);
    CHECK(worst_of({}) == Verdict::go);
}

} // namespace evenclose
