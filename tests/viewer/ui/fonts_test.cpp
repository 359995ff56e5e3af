// Type for the window where the fonts are missing, unreadable or no fonts.
#include "tests/viewer/window/screen.hpp"
#include "viewer/ui/fonts.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

namespace fs = std::filesystem;

class Gui {
public:
    Gui() { ImGui::CreateContext(); }
    ~Gui() { ImGui::DestroyContext(); }
    Gui(const Gui&) = delete;
    Gui& operator=(const Gui&) = delete;
};

void check_whole(const Fonts& fonts) {
    REQUIRE(ImGui::GetIO().Fonts->Build());
    for (const Face face : {Face::text, Face::small, Face::strong, Face::title, Face::number}) {
        REQUIRE(fonts.of(face) != nullptr);
        for (const unsigned char letter : {'A', 'z', '0', '.', '-'}) {
            CHECK(fonts.of(face)->FindGlyphNoFallback(letter) != nullptr);
        }
    }
    CHECK(fonts.number->FontSize > fonts.text->FontSize);
}

void put(const fs::path& file, const std::string& bytes) {
    fs::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << bytes;
}

} // namespace

TEST_CASE("fonts: where none is installed, or what lies there is none, the window has its own") {
    const Gui gui;
    const TestFolder folder;
    check_whole(make_fonts(1.0F, (folder.path() / "nowhere").string()));
    put(folder.path() / "open-sans/OpenSans-Regular.ttf", "");
    put(folder.path() / "open-sans/OpenSans-Semibold.ttf", "no font");
    fs::create_directories(folder.path() / "dejavu/DejaVuSans.ttf");
    check_whole(make_fonts(2.0F, folder.path().string()));
}

TEST_CASE("fonts: one that is there is enough for all") {
    const Gui gui;
    const TestFolder folder;
    const fs::path installed = "/usr/share/fonts/truetype/open-sans/OpenSans-Regular.ttf";
    REQUIRE(fs::exists(installed)); // third_party/install.sh
    fs::create_directories(folder.path() / "open-sans");
    fs::copy_file(installed, folder.path() / "open-sans/OpenSans-Regular.ttf");
    const Fonts fonts = make_fonts(1.0F, folder.path().string());
    check_whole(fonts);
    CHECK(fonts.text->FindGlyphNoFallback(0x00E9) != nullptr); // é, which the window's own has not
}
