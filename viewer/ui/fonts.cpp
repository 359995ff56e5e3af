#include "viewer/ui/fonts.hpp"

#include <array>
#include <filesystem>
#include <initializer_list>
#include <string>

namespace evenclose {
namespace {

// Latin with its extensions, Greek and Cyrillic for names of presses and molds; the dashes, quotes, fractions, arrows
// and signs that our own sentences use.
constexpr std::array<ImWchar, 19> kGlyphs{0x0020, 0x017F, 0x0370, 0x03FF, 0x0400, 0x045F, 0x2010,
                                          0x2027, 0x2030, 0x2044, 0x2150, 0x215F, 0x2190, 0x2199,
                                          0x2212, 0x2212, 0x2248, 0x2265, 0};

constexpr const char* kDejaVu = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";

std::string first_that_exists(std::initializer_list<const char*> files) {
    for (const char* file : files) {
        std::error_code ignored;
        if (std::filesystem::is_regular_file(file, ignored)) {
            return file;
        }
    }
    return {};
}

const std::string& regular_file() {
    static const std::string file = first_that_exists({"/usr/share/fonts/truetype/open-sans/OpenSans-Regular.ttf",
                                                       "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"});
    return file;
}

const std::string& strong_file() {
    static const std::string file = first_that_exists({"/usr/share/fonts/truetype/open-sans/OpenSans-Semibold.ttf",
                                                       "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"});
    return file;
}

ImFont* add(const std::string& file, float size) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    ImFontConfig config;
    config.OversampleH = 3;
    config.OversampleV = 1;
    config.PixelSnapH = false; // whole-pixel steps would tear words apart
    if (file.empty()) {
        config.SizePixels = size;
        return atlas.AddFontDefault(&config);
    }
    ImFont* font = atlas.AddFontFromFileTTF(file.c_str(), size, &config, kGlyphs.data());
    // Open Sans has no arrows and few signs; what it lacks is taken from DejaVu where that is installed.
    const std::string more = first_that_exists({kDejaVu});
    if (!more.empty() && more != file) {
        config.MergeMode = true;
        atlas.AddFontFromFileTTF(more.c_str(), size, &config, kGlyphs.data());
    }
    return font;
}

} // namespace

ImFont* Fonts::of(Face face) const {
    switch (face) {
    case Face::text:
        return text;
    case Face::small:
        return small;
    case Face::strong:
        return strong;
    case Face::title:
        return title;
    case Face::number:
        return number;
    }
    return text;
}

Fonts make_fonts(float scale) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    atlas.TexDesiredWidth = scale > 1.5F ? 4096 : 2048;
    const std::string& strong = strong_file().empty() ? regular_file() : strong_file();
    Fonts fonts;
    fonts.text = add(regular_file(), 16.0F * scale);
    fonts.small = add(regular_file(), 13.5F * scale);
    fonts.strong = add(strong, 16.0F * scale);
    fonts.title = add(strong, 20.0F * scale);
    fonts.number = add(strong, 27.0F * scale);
    ImGui::GetIO().FontDefault = fonts.text;
    return fonts;
}

} // namespace evenclose
