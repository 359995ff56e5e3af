#include "tests/viewer/window/unsaved_work.hpp"

#include "tests/viewer/window/open_shop.hpp"

#include <algorithm>
#include <chrono>
#include <thread>

namespace evenclose::test {

void edit_underside(WindowSession& window, const std::string& to) {
    if (window.state()["fields"] == "") {
        window.screen().key("e");
    }
    window.wait_until("fields", [](const State& s) { return s["fields"] == "box.press.json" && s["settled"]; });
    find_field(window, "head underside", "head.underside");
    window.screen().type(to);
    window.screen().key("Return");
    window.wait_until("edited", [](const State& s) { return checked(s) && s["unsaved"] == true; });
}

bool work_is_kept(const std::filesystem::path& home) {
    const std::filesystem::directory_iterator kept(home / "evenclose");
    return std::any_of(begin(kept), end(kept), [](const auto& entry) { return entry.path().extension() == ".work"; });
}

bool work_is_kept_soon(const std::filesystem::path& home) {
    const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(60);
    while (!work_is_kept(home)) {
        if (std::chrono::steady_clock::now() > until) {
            return false;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    return true;
}

} // namespace evenclose::test
