// Each panel and sheet as it was when a person last looked at it and found it good: tests/viewer/window/kept. A quarter as
// wide and high, which is what is compared: a word that moved by a pixel is no fault, a panel that is gone or over another is.
//
// EVENCLOSE_RENEW_KEPT=1 keeps them anew; look at each before you commit it.
#include "tests/places.hpp"
#include "tests/viewer/window/open_shop.hpp"
#include "viewer/render/renderer.hpp"

#include <doctest/doctest.h>
#include <stb_image.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <string>

namespace evenclose::test {
namespace {

constexpr std::size_t kBlock = 4;
constexpr int kAlike = 36; // of 255: a word's stroke in another row of a block's pixels
constexpr double kMost = 0.01;

/// Means of blocks of pixels, within `rect`.
Image coarse(const Image& screen, const Rect& rect) {
    const auto left = static_cast<std::size_t>(rect.x);
    const auto top = static_cast<std::size_t>(rect.y);
    const std::size_t width = static_cast<std::size_t>(rect.width) / kBlock;
    const std::size_t height = static_cast<std::size_t>(rect.height) / kBlock;
    Image small{static_cast<int>(width), static_cast<int>(height), {}};
    for (std::size_t y = 0; y < height; ++y) {
        for (std::size_t x = 0; x < width; ++x) {
            for (std::size_t channel = 0; channel < 4; ++channel) {
                unsigned sum = 0;
                for (std::size_t i = 0; i < kBlock * kBlock; ++i) {
                    const std::size_t row = top + y * kBlock + i / kBlock;
                    const std::size_t column = left + x * kBlock + i % kBlock;
                    sum += screen.rgba[4 * (row * static_cast<std::size_t>(screen.width) + column) + channel];
                }
                small.rgba.push_back(static_cast<std::uint8_t>(sum / (kBlock * kBlock)));
            }
        }
    }
    return small;
}

/// The share of blocks that differ; 1 for pictures of different size.
double difference(const Image& a, const Image& b) {
    if (a.width != b.width || a.height != b.height || a.rgba.empty()) {
        return 1;
    }
    std::size_t other = 0;
    for (std::size_t i = 0; i < a.rgba.size(); i += 4) {
        int most = 0;
        for (std::size_t channel = 0; channel < 3; ++channel) {
            most = std::max(most, std::abs(int{a.rgba[i + channel]} - int{b.rgba[i + channel]}));
        }
        other += most > kAlike ? 1 : 0;
    }
    return 4.0 * static_cast<double>(other) / static_cast<double>(a.rgba.size());
}

Image kept(const std::filesystem::path& file) {
    Image image;
    int channels = 0;
    if (unsigned char* pixels = stbi_load(file.c_str(), &image.width, &image.height, &channels, 4)) {
        image.rgba.assign(pixels, pixels + 4 * static_cast<std::ptrdiff_t>(image.width) * image.height);
        stbi_image_free(pixels);
    }
    return image;
}

/// Compares the place in the window with the picture kept under `name`.
Image compare(WindowSession& window, const std::string& name, const std::string& place) {
    window.screen().move_mouse(window.place("header").right() - 3, 3); // over nothing that lights up
    window.settled();
    Image seen = coarse(window.screen().picture(), window.place(place));
    const std::filesystem::path file =
        std::filesystem::path(source_folder()) / "tests/viewer/window/kept" / (name + ".png");
    if (std::getenv("EVENCLOSE_RENEW_KEPT") != nullptr) {
        write_png(seen, file.string());
        return seen;
    }
    const double share = difference(seen, kept(file));
    CAPTURE(name);
    if (share > kMost) {
        const std::string now = build_folder() + "/seen-" + name + ".png";
        write_png(seen, now);
        CAPTURE(now);
        CHECK(share <= kMost);
    }
    return seen;
}

} // namespace

TEST_CASE("window: every panel looks as it was found good, light and dark") {
    OpenShop shop;
    WindowSession& window = shop.window;
    std::vector<Image> light;
    for (const char* panel : {"header", "bench", "picture", "rail", "ledger"}) {
        light.push_back(compare(window, std::string(panel) + "-light", panel));
    }
    window.screen().key("ctrl+d");
    window.wait_until("dark", [](const State& s) { return s["theme"] == "dark" && s["settled"]; });
    std::size_t at = 0;
    for (const char* panel : {"header", "bench", "picture", "rail", "ledger"}) {
        const Image dark = compare(window, std::string(panel) + "-dark", panel);
        CHECK(difference(dark, light[at++]) > 0.5); // what is compared can be told apart
    }
}

TEST_CASE("window: sheets, the empty start and the fields look as they were found good") {
    {
        WindowSession window("");
        window.settled();
        compare(window, "empty-start", "picture");
        window.screen().key("question");
        window.wait_until("keys", [](const State& s) { return has(s, "sheet.keys") && s["settled"]; });
        compare(window, "sheet-keys", "sheet.keys");
    }
    OpenShop shop;
    WindowSession& window = shop.window;
    window.screen().key("n");
    window.wait_until("chosen", [](const State& s) { return s["chosen_finding"] == 0 && s["settled"]; });
    compare(window, "finding-chosen", "picture");
    window.screen().key("Escape");
    window.wait_until("none", [](const State& s) { return s["chosen_finding"].is_null(); });
    window.screen().key("e");
    window.wait_until("fields", [](const State& s) { return s["fields"] == "box.press.json" && s["settled"]; });
    compare(window, "fields", "bench");
    window.screen().key("e");
    window.wait_until("bench", [](const State& s) { return s["fields"] == "" && s["settled"]; });
    window.screen().key("F1");
    window.wait_until("guide", [](const State& s) { return has(s, "sheet.guide") && s["settled"]; });
    compare(window, "sheet-guide", "sheet.guide");
}

} // namespace evenclose::test
