// The desktop's file dialog, asked for by keys and mouse in a real window; a portal stands in for the desktop's.
#include "tests/viewer/desktop/stand_in_portal.hpp"
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;
using Person = StandInPortal::Person;

namespace {

WindowSession::Setting on(const StandInPortal& portal) {
    WindowSession::Setting setting;
    setting.environment["DBUS_SESSION_BUS_ADDRESS"] = portal.address();
    return setting;
}

} // namespace

TEST_CASE("window: Ctrl O asks in the desktop's dialog, and what is chosen there is opened") {
    const TestFolder folder;
    const std::string file = write_shop_files(folder.path(), ShopFault::none);
    StandInPortal portal(Person::chooses, file);
    WindowSession window("", on(portal));
    window.screen().key("ctrl+o");
    const State state = window.wait_until("opened", checked);
    CHECK(state["file"] == file);
    CHECK(state["sheet"] == "none");
    const StandInPortal::Asked asked = portal.asked();
    CHECK(asked.times == 1);
    CHECK(asked.parent.starts_with("x11:"));
    CHECK(asked.parent.size() > 4);
}

TEST_CASE("window: while the dialog asks the window lives, Esc takes the question back, or the name is typed here") {
    StandInPortal portal(Person::says_nothing);
    OpenShop shop(on(portal), ShopFault::none);
    WindowSession& window = shop.window;
    window.click("header.open");
    State state = window.wait_until("asks", [](const State& s) { return has(s, "sheet.asking"); });
    check_order(state);
    window.screen().key("Escape");
    window.wait_until("taken back", [](const State& s) { return s["sheet"] == "none"; });
    for (int i = 0; i < 500 && portal.asked().closed == 0; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    CHECK(portal.asked().closed == 1);
    window.screen().key("ctrl+p");
    window.wait_until("asks again", [](const State& s) { return has(s, "asking.here"); });
    window.click("asking.here");
    state = window.wait_until("our sheet", [](const State& s) { return has(s, "report.field"); });
    check_order(state);
}

TEST_CASE("window: where the desktop has a portal but no dialog the sheet comes, and nothing that was typed is lost") {
    const TestFolder folder;
    const std::string file = write_shop_files(folder.path(), ShopFault::none);
    StandInPortal portal(Person::chooses, {}, StandInPortal::Portal::without_dialog);
    WindowSession window("", on(portal));
    window.screen().key("ctrl+o");
    window.wait_until("our sheet", [](const State& s) { return s["sheet"] == "open"; });
    window.screen().key("ctrl+a");
    window.screen().type(file);
    window.screen().key("Return");
    window.wait_until("opened", [&](const State& s) { return checked(s) && s["file"] == file; });
    CHECK(portal.asked().times == 0);
}
