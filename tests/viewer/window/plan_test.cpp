// The sheet with the ways to press more.
#include "tests/places.hpp"
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

bool planned(const State& s) { return s["sheet"] == "plan" && s["plan"].is_object() && s["settled"].get<bool>(); }

} // namespace

TEST_CASE(
    "window: the plan's ways stand on a diagram, a click chooses one, the key opens it as a set-up that is checked") {
    for (const WindowSession::Setting& setting :
         {WindowSession::Setting{1280, 800, "1"}, WindowSession::Setting{2560, 1440, "2"}}) {
        OpenShop shop(setting, ShopFault::none);
        WindowSession& window = shop.window;
        window.click("bench.plan");
        const State made = window.wait_until("plan", planned, 120);
        CHECK(made["cut"].empty());
        CHECK(made["unprintable"].empty());
        (void)window.screen().picture(); // kept, if asked for
        const auto ways = made["plan"]["ways"].get<std::size_t>();
        REQUIRE(ways >= 2); // one opening as it stands; more with a raised head
        CHECK(made["plan"]["chosen"] == ways - 1);
        window.click("plan.way.0");
        window.wait_until("first", [](const State& s) { return s["plan"]["chosen"] == 0; });
        window.click("plan.against.Molds");
        window.wait_until("molds", [](const State& s) { return s["plan"]["against"] == "Molds" && s["settled"]; });
        window.click("plan.way." + std::to_string(ways - 1));
        window.wait_until("last", [&](const State& s) { return s["plan"]["chosen"] == ways - 1; });
        window.click("plan.open");
        const State open = window.wait_until(
            "opened",
            [&](const State& s) {
                return checked(s) && s["file"].get<std::string>().find("plans") != std::string::npos;
            },
            120);
        CHECK(open["sheet"] == "none");
        CHECK(open["molds"].size() >= 2);
        CHECK(open["verdict"] != "no-go"); // what is on offer was checked
        CHECK(std::filesystem::exists(open["file"].get<std::string>()));
        CHECK(open["notice"].get<std::string>().find("set-ups stand in") != std::string::npos);
        CHECK(open["cut"].empty());
    }
}

TEST_CASE("window: a plan that takes long can be stopped, begun again and left behind by another set-up") {
    WindowSession window(demo("crescent.set-up.json"));
    window.wait_until(
        "read", [](const State& s) { return s["last_mm"].get<double>() > 0; }, 60);
    window.screen().key("g");
    window.wait_until("running", [](const State& s) { return s["places"].contains("plan.stop"); });
    window.click("plan.stop");
    window.wait_until("stopped", [](const State& s) { return s["places"].contains("plan.make"); });
    window.click("plan.make");
    window.wait_until("again", [](const State& s) { return s["places"].contains("plan.stop"); });
    window.screen().key("Escape");
    window.screen().key("r"); // reads all anew: the plan is of an older reading
    window.wait_until("quiet", checked, 120);
    window.screen().key("ctrl+q");
    CHECK(window.program().exit_within(20) == 0);
}
