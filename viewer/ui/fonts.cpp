#include "viewer/ui/fonts.hpp"

#include <array>
#include <fstream>
#include <initializer_list>
#include <string>

namespace evenclose {
namespace {

// Latin with its extensions, Greek and Cyrillic for names of presses and molds; the dashes, quotes, fractions, arrows
// and signs that our own sentences use.
constexpr std::array<ImWchar, 19> kGlyphs{0x0020, 0x017F, 0x0370, 0x03FF, 0x0400, 0x045F, 0x2010,
                                          0x2027, 0x2030, 0x2044, 0x2150, 0x215F, 0x2190, 0x2199,
                                          0x2212, 0x2212, 0x2248, 0x2265, 0};

/// It can be read and begins as one does (OpenType 1.9, "Organization of an OpenType font"): Dear ImGui ends the program at
/// any other.
bool is_font(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    std::string head(4, '\0');
    return in.read(head.data(), 4) && (head == std::string("\0\1\0\0", 4) || head == "OTTO" || head == "true");
}

/// Empty where there is none of them.
std::string first_font(const std::string& folder, std::initializer_list<const char*> names) {
    for (const char* name : names) {
        if (std::string file = folder + "/" + name; is_font(file)) {
            return file;
        }
    }
    return {};
}

/// `more`: what `file` lacks is taken from there, if it is not empty.
ImFont* add(const std::string& file, const std::string& more, float size) {
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

Fonts make_fonts(float scale, const std::string& folder) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    atlas.TexDesiredWidth = scale > 1.5F ? 4096 : 2048;
    // Open Sans has no arrows and few signs; what it lacks is taken from DejaVu where that is installed.
    const std::string more = first_font(folder, {"dejavu/DejaVuSans.ttf"});
    const std::string open_sans = first_font(folder, {"open-sans/OpenSans-Regular.ttf"});
    const std::string& regular = open_sans.empty() ? more : open_sans;
    const std::string semibold = first_font(folder, {"open-sans/OpenSans-Semibold.ttf", "dejavu/DejaVuSans-Bold.ttf"});
    const std::string& strong = semibold.empty() ? regular : semibold;
    Fonts fonts;
    fonts.text = add(regular, more, 16.0F * scale);
    fonts.small = add(regular, more, 13.5F * scale);
    fonts.strong = add(strong, more, 16.0F * scale);
    fonts.title = add(strong, more, 20.0F * scale);
    fonts.number = add(strong, more, 27.0F * scale);
    ImGui::GetIO().FontDefault = fonts.text;
    return fonts;
}

} // namespace evenclose
