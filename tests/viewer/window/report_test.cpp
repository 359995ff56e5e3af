// The report made from the window.
#include "tests/file_bytes.hpp"
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

bool on_report(const State& s) { return s["sheet"] == "report" && s["places"].contains("report.field"); }

bool written(const State& s) {
    return s["settled"].get<bool>() && s["notice"].get<std::string>().starts_with("The report ");
}

} // namespace

TEST_CASE("window: Ctrl P makes the report beside the set-up, as a page or for paper, and says where it stands") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.screen().key("ctrl+p");
    const State sheet = window.wait_until("sheet", on_report);
    CHECK(sheet["cut"].empty());
    CHECK(sheet["unprintable"].empty());
    window.screen().key("Return"); // the name that is proposed
    window.wait_until("written", written, 60);
    std::filesystem::path page;
    for (const auto& entry : std::filesystem::directory_iterator(shop.folder.path())) {
        page = entry.path().extension() == ".html" ? entry.path() : page;
    }
    REQUIRE(!page.empty());
    const std::string html = bytes_of(page);
    CHECK(html.find("NO-GO") != std::string::npos); // the stray bolt
    CHECK(html.find("data:image/png") != std::string::npos);

    window.screen().key("ctrl+p");
    window.wait_until("sheet", on_report);
    window.screen().key("Return"); // it is there already
    const State asked = window.wait_until("asked", [](const State& s) { return s["places"].contains("report.fault"); });
    CHECK(asked["sheet"] == "report");
    window.screen().key("ctrl+a");
    const std::filesystem::path paper = shop.folder.path() / "for-the-wall.pdf";
    window.screen().type(paper.string());
    window.click("report.save");
    window.wait_until(
        "written for paper",
        [&](const State& s) { return written(s) && s["notice"].get<std::string>().find(".pdf") != std::string::npos; },
        60);
    CHECK(bytes_of(paper).starts_with("%PDF-"));
}

TEST_CASE("window: a report into a folder that may not be written to says so, and nothing is lost") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.screen().key("ctrl+p");
    window.wait_until("sheet", on_report);
    window.screen().key("ctrl+a");
    window.screen().type("/proc/report.html"); // nobody can write there, root neither
    window.screen().key("Return");
    const State state = window.wait_until("told", written, 60);
    CHECK(state["notice"].get<std::string>().find("not written") != std::string::npos);
    CHECK(state["stage"] == "checked");
}
