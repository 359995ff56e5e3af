#include "viewer/report/pdf_report.hpp"

#include "tests/scene/documents/temporary_folder.hpp"
#include "viewer/render/renderer.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace evenclose {
namespace {

ReportPage made_page(int findings) {
    ReportPage page;
    page.title = "Größe ½ & <co>";
    page.subtitle = "a mold in a press";
    page.verdict = Verdict::marginal;
    page.tally = "3 marginal";
    page.made_on = "2026-11-30";
    page.made_by = "evenclose test";
    page.cautions = {"Hands out before it moves."};
    page.disclaimer = "Planning figures, no approval.";
    for (int i = 0; i < findings; ++i) {
        page.findings.push_back({"travel", i % 4 == 3 ? Verdict::go : Verdict::marginal,
                                 fmt::format("Finding number {}", i), "measured 3 mm", "x 1 mm", "Because it is so.",
                                 fmt::format("Remedy of {}", i)});
    }
    Curve curve;
    curve.title = "Over";
    curve.x_words = "travel, mm";
    curve.lines.push_back({"one & another", {{{0, 0}, {10, 5}}}, {}, {}, false});
    page.curves.push_back(curve);
    Image image{6, 4, std::vector<std::uint8_t>(6 * 4 * 4, 200)};
    page.pictures.push_back({"A picture", "its caption", png_bytes(image), 6, 4});
    page.inputs.push_back({"Limits", {{"running clearance", "5 mm", "as by default"}}});
    return page;
}

/// What Poppler's tools, which others wrote, read out of it.
std::string told_by(const std::string& tool, const std::string& pdf) {
    const test::TemporaryFolder folder;
    const std::string file = folder.write("report.pdf", pdf).string();
    const std::string text = (folder.path() / "out.txt").string();
    REQUIRE(std::system(
                fmt::format("{} '{}' {} > '{}' 2>&1", tool, file, tool == "pdftotext" ? "-" : "", text).c_str()) == 0);
    return test::bytes_of(text);
}

} // namespace

TEST_CASE("pdf report: Poppler reads every finding, remedy and caution out of it, on paper of the right size") {
    const ReportPage page = made_page(40);
    const std::string pdf = pdf_report(page, Paper::a4);
    CHECK(pdf.starts_with("%PDF-1.5"));
    std::string words = told_by("pdftotext", pdf);
    std::replace(words.begin(), words.end(), '\n', ' ');
    for (const ReportFinding& finding : page.findings) {
        CAPTURE(finding.title);
        CHECK(words.find(finding.title) != std::string::npos);
        if (finding.verdict != Verdict::go) {
            CHECK(words.find(finding.remedy) != std::string::npos);
        }
    }
    for (const char* said : {"Größe ½ & <co>", "MARGINAL", "Hands out before it moves.", "its caption", "one & another",
                             "as by default", "Made on 2026-11-30 by evenclose test."}) {
        CAPTURE(said);
        CHECK(words.find(said) != std::string::npos);
    }
    const std::string info = told_by("pdfinfo", pdf);
    CAPTURE(info);
    CHECK(info.find("(A4)") != std::string::npos);
    CHECK(info.find("Größe") != std::string::npos);
    const std::size_t at = info.find("Pages:");
    REQUIRE(at != std::string::npos);
    const int pages = std::atoi(info.c_str() + at + 6);
    CHECK(pages > 4);
    CHECK(words.find(fmt::format("1 of {}", pages)) != std::string::npos);
    CHECK(words.find(fmt::format("{0} of {0}", pages)) != std::string::npos);
    CHECK(told_by("pdfinfo", pdf_report(made_page(1), Paper::letter)).find("(letter)") != std::string::npos);
}

TEST_CASE("pdf report: the same page gives the same bytes, and a spoiled picture is told") {
    ReportPage page = made_page(3);
    CHECK(pdf_report(page, Paper::a4) == pdf_report(page, Paper::a4));
    page.pictures.front().png = page.pictures.front().png.substr(0, 40);
    CHECK_THROWS_WITH_AS((void)pdf_report(page, Paper::a4), doctest::Contains("picture of the report cannot be read"),
                         std::runtime_error);
}

} // namespace evenclose
