#include "viewer/render/small_type.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

namespace evenclose {
namespace {

struct Letter {
    char sign;
    std::array<const char*, 7> rows;
};

constexpr std::array kLetters{
    Letter{'0', {" XXX ", "X   X", "X  XX", "X X X", "XX  X", "X   X", " XXX "}},
    Letter{'1', {"  X  ", " XX  ", "  X  ", "  X  ", "  X  ", "  X  ", " XXX "}},
    Letter{'2', {" XXX ", "X   X", "    X", "   X ", "  X  ", " X   ", "XXXXX"}},
    Letter{'3', {" XXX ", "X   X", "    X", "  XX ", "    X", "X   X", " XXX "}},
    Letter{'4', {"   X ", "  XX ", " X X ", "X  X ", "XXXXX", "   X ", "   X "}},
    Letter{'5', {"XXXXX", "X    ", "XXXX ", "    X", "    X", "X   X", " XXX "}},
    Letter{'6', {"  XX ", " X   ", "X    ", "XXXX ", "X   X", "X   X", " XXX "}},
    Letter{'7', {"XXXXX", "    X", "   X ", "  X  ", "  X  ", " X   ", " X   "}},
    Letter{'8', {" XXX ", "X   X", "X   X", " XXX ", "X   X", "X   X", " XXX "}},
    Letter{'9', {" XXX ", "X   X", "X   X", " XXXX", "    X", "   X ", " XX  "}},
    Letter{'A', {" XXX ", "X   X", "X   X", "XXXXX", "X   X", "X   X", "X   X"}},
    Letter{'B', {"XXXX ", "X   X", "X   X", "XXXX ", "X   X", "X   X", "XXXX "}},
    Letter{'C', {" XXX ", "X   X", "X    ", "X    ", "X    ", "X   X", " XXX "}},
    Letter{'D', {"XXXX ", "X   X", "X   X", "X   X", "X   X", "X   X", "XXXX "}},
    Letter{'E', {"XXXXX", "X    ", "X    ", "XXXX ", "X    ", "X    ", "XXXXX"}},
    Letter{'F', {"XXXXX", "X    ", "X    ", "XXXX ", "X    ", "X    ", "X    "}},
    Letter{'G', {" XXX ", "X   X", "X    ", "X XXX", "X   X", "X   X", " XXXX"}},
    Letter{'H', {"X   X", "X   X", "X   X", "XXXXX", "X   X", "X   X", "X   X"}},
    Letter{'I', {" XXX ", "  X  ", "  X  ", "  X  ", "  X  ", "  X  ", " XXX "}},
    Letter{'J', {"  XXX", "   X ", "   X ", "   X ", "   X ", "X  X ", " XX  "}},
    Letter{'K', {"X   X", "X  X ", "X X  ", "XX   ", "X X  ", "X  X ", "X   X"}},
    Letter{'L', {"X    ", "X    ", "X    ", "X    ", "X    ", "X    ", "XXXXX"}},
    Letter{'M', {"X   X", "XX XX", "X X X", "X X X", "X   X", "X   X", "X   X"}},
    Letter{'N', {"X   X", "XX  X", "X X X", "X  XX", "X   X", "X   X", "X   X"}},
    Letter{'O', {" XXX ", "X   X", "X   X", "X   X", "X   X", "X   X", " XXX "}},
    Letter{'P', {"XXXX ", "X   X", "X   X", "XXXX ", "X    ", "X    ", "X    "}},
    Letter{'Q', {" XXX ", "X   X", "X   X", "X   X", "X X X", "X  X ", " XX X"}},
    Letter{'R', {"XXXX ", "X   X", "X   X", "XXXX ", "X X  ", "X  X ", "X   X"}},
    Letter{'S', {" XXXX", "X    ", "X    ", " XXX ", "    X", "    X", "XXXX "}},
    Letter{'T', {"XXXXX", "  X  ", "  X  ", "  X  ", "  X  ", "  X  ", "  X  "}},
    Letter{'U', {"X   X", "X   X", "X   X", "X   X", "X   X", "X   X", " XXX "}},
    Letter{'V', {"X   X", "X   X", "X   X", "X   X", "X   X", " X X ", "  X  "}},
    Letter{'W', {"X   X", "X   X", "X   X", "X X X", "X X X", "XX XX", "X   X"}},
    Letter{'X', {"X   X", "X   X", " X X ", "  X  ", " X X ", "X   X", "X   X"}},
    Letter{'Y', {"X   X", "X   X", " X X ", "  X  ", "  X  ", "  X  ", "  X  "}},
    Letter{'Z', {"XXXXX", "    X", "   X ", "  X  ", " X   ", "X    ", "XXXXX"}},
    Letter{'.', {"     ", "     ", "     ", "     ", "     ", " XX  ", " XX  "}},
    Letter{',', {"     ", "     ", "     ", "     ", " XX  ", "  X  ", " X   "}},
    Letter{'+', {"     ", "  X  ", "  X  ", "XXXXX", "  X  ", "  X  ", "     "}},
    Letter{'-', {"     ", "     ", "     ", "XXXXX", "     ", "     ", "     "}},
    Letter{'/', {"    X", "    X", "   X ", "  X  ", " X   ", "X    ", "X    "}},
    Letter{'%', {"XX  X", "XX  X", "   X ", "  X  ", " X   ", "X  XX", "X  XX"}},
    Letter{'~', {"     ", "     ", " X  X", "X X X", "X  X ", "     ", "     "}},
};

constexpr int kLetterDots = 6;

std::uint8_t byte_of(float share) {
    return static_cast<std::uint8_t>(std::lround(255.0F * std::clamp(share, 0.0F, 1.0F)));
}

} // namespace

void fill_box(Image& image, int left, int top, int width, int height, const Colour& colour) {
    for (int y = std::max(0, top); y < std::min(image.height, top + height); ++y) {
        for (int x = std::max(0, left); x < std::min(image.width, left + width); ++x) {
            std::uint8_t* pixel = &image.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) +
                                                   static_cast<std::size_t>(x))];
            pixel[0] = byte_of(colour.red);
            pixel[1] = byte_of(colour.green);
            pixel[2] = byte_of(colour.blue);
            pixel[3] = 255;
        }
    }
}

void frame_box(Image& image, int left, int top, int width, int height, int line, const Colour& colour) {
    fill_box(image, left, top, width, line, colour);
    fill_box(image, left, top + height - line, width, line, colour);
    fill_box(image, left, top, line, height, colour);
    fill_box(image, left + width - line, top, line, height, colour);
}

void write_small(Image& image, int left, int top, int dot, std::string_view words, const Colour& colour) {
    for (const char c : words) {
        const char sign = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
        const auto letter =
            std::find_if(kLetters.begin(), kLetters.end(), [&](const Letter& each) { return each.sign == sign; });
        if (letter != kLetters.end()) {
            for (int row = 0; row < 7; ++row) {
                for (int column = 0; column < 5; ++column) {
                    if (letter->rows[static_cast<std::size_t>(row)][column] == 'X') {
                        fill_box(image, left + column * dot, top + row * dot, dot, dot, colour);
                    }
                }
            }
        }
        left += kLetterDots * dot;
    }
}

int width_of_small(std::string_view words, int dot) {
    return words.empty() ? 0 : static_cast<int>(words.size()) * kLetterDots * dot - dot;
}

} // namespace evenclose
