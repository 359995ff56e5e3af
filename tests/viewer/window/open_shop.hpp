// tests/viewer/window/open_shop.hpp: a window with the small shop's set-up in it, read and checked.
#pragma once

#include "tests/viewer/window/shop_files.hpp"
#include "tests/viewer/window/window_session.hpp"

#include <string>

namespace evenclose::test {

inline bool has(const State& s, const std::string& place) { return s["places"].contains(place); }
inline bool checked(const State& s) { return s["stage"] == "checked" && s["settled"].get<bool>(); }

struct OpenShop {
    TestFolder folder;
    WindowSession window;
    explicit OpenShop(const WindowSession::Setting& setting = {}, ShopFault fault = ShopFault::stray_bolt)
        : window(write_shop_files(folder.path(), fault), setting) {
        window.wait_until("checked", checked);
    }
};

/// The press's fields, a search for `words`, and the first field that it finds, which is `place`, ready to be typed into.
void find_field(WindowSession& window, const std::string& words, const std::string& place);

/// No slip of paper over the picture lies over another.
void check_papers(const State& state);

/// What every picture of the window must keep: panels within it and not over each other, no words cut, no missing glyph.
void check_order(const State& state);

} // namespace evenclose::test
