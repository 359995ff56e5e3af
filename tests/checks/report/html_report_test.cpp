#include "checks/report/html_report.hpp"

#include "tests/checks/block_setup.hpp"

#include <doctest/doctest.h>
#include <pugixml.hpp>

#include <functional>
#include <string>

namespace evenclose {
namespace {

/// A page of a real run, with names that would break a careless writer.
ReportPage block_page() {
    test::BlockSetup blocks;
    blocks.press.members.push_back(test::bolt("bolt </table> & \"co\"", {450, 0, 500}, {340, 0, 500}, 10));
    Setup setup = blocks.made();
    setup.name = "<script>alert('blocks')</script>";
    const Assembly assembly = assemble(setup);
    Progress progress;
    const CheckResults results = run_checks(setup, assembly, {{"travel", "level", "daylight", "stroke"}, 1}, progress);
    ReportPage page = report_page(setup, assembly, results, {"lower half taken as {mm:25.4}"}, UnitSystem::metric);
    page.made_on = "2026-11-30";
    page.made_by = "evenclose test";
    page.pictures.push_back({"A picture", "of nothing", "foobar", 4, 3});
    return page;
}

std::string words_in(const pugi::xml_node& node) {
    std::string words;
    const std::function<void(const pugi::xml_node&)> walk = [&](const pugi::xml_node& it) {
        for (const pugi::xml_node child : it.children()) {
            if (child.type() == pugi::node_pcdata) {
                words += child.value();
                words += "\n";
            }
            walk(child);
        }
    };
    walk(node);
    return words;
}

} // namespace

TEST_CASE("html report: well-formed, self-contained, and every finding is in it with number, place and remedy") {
    const ReportPage page = block_page();
    const std::string html = html_report(page);
    pugi::xml_document document;
    const pugi::xml_parse_result result = document.load_string(html.c_str(), pugi::parse_default | pugi::parse_doctype);
    CAPTURE(result.description());
    REQUIRE(result);
    const std::string words = words_in(document);

    REQUIRE(page.verdict == Verdict::no_go);
    CHECK(words.find("NO-GO") != std::string::npos);
    CHECK(words.find(page.tally) != std::string::npos);
    bool fouls = false;
    for (const ReportFinding& finding : page.findings) {
        CAPTURE(finding.title);
        CHECK(words.find(finding.title) != std::string::npos);
        CHECK(finding.title.find("{mm:") == std::string::npos);
        if (finding.verdict != Verdict::go) {
            CHECK(words.find(finding.why) != std::string::npos);
            CHECK(words.find(finding.remedy) != std::string::npos);
            CHECK(words.find(finding.where) != std::string::npos);
            CHECK(words.find(finding.numbers) != std::string::npos);
            fouls = fouls || (finding.check == "travel" && finding.where.find("at travel") != std::string::npos);
        }
    }
    CHECK(fouls);
    for (const std::string& caution : page.cautions) {
        CHECK(words.find(caution) != std::string::npos);
    }
    CHECK(words.find(page.disclaimer) != std::string::npos);
    CHECK(words.find("lower half taken as 25.4 mm") != std::string::npos);
    CHECK(words.find("running clearance\n5 mm") != std::string::npos);
    CHECK(words.find("as by default") != std::string::npos);
    CHECK(words.find("Made on 2026-11-30 by evenclose test.") != std::string::npos);
    CHECK(words.find("<script>alert('blocks')</script>") != std::string::npos); // as text

    // Nothing is fetched, nothing runs.
    CHECK(document.select_nodes("//script | //link | //iframe | //object | //a[@href] | //base").empty());
    for (const pugi::xpath_node image : document.select_nodes("//img")) {
        CHECK(std::string(image.node().attribute("src").value()) == "data:image/png;base64,Zm9vYmFy");
    }
    CHECK(html.find("url(") == std::string::npos);
    CHECK(html.find("@import") == std::string::npos);
    CHECK(document.select_nodes("//figure[@class='curve']/svg").size() == page.curves.size());
    CHECK(page.curves.size() == 2);
}

TEST_CASE("html report: in inches nothing is left in millimetres but what a name says") {
    test::BlockSetup blocks;
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    const CheckResults results = run_checks(setup, assembly, {{"travel", "daylight", "stroke"}, 1}, progress);
    const std::string html = html_report(report_page(setup, assembly, results, {}, UnitSystem::inch));
    CHECK(html.find(" in") != std::string::npos);
    CHECK(html.find(" mm") == std::string::npos);
}

TEST_CASE("html report: what was stopped half-way says so") {
    ReportPage page = block_page();
    CHECK(html_report(page).find("Stopped before it was done") == std::string::npos);
    page.complete = false;
    CHECK(html_report(page).find("Stopped before it was done") != std::string::npos);
}

} // namespace evenclose
