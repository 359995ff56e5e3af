// Colours of the window: words can be read, verdicts told apart by any eye, in light and dark.
#include "viewer/ui/look.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

using namespace evenclose;

namespace {

using Linear = std::array<double, 3>;

Linear linear_of(ImU32 packed) {
    Linear linear{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double v = static_cast<double>((packed >> (8 * i)) & 0xFFU) / 255.0;
        linear[i] = v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); // IEC 61966-2-1
    }
    return linear;
}

/// WCAG 2.1, definition of "relative luminance".
double luminance(const Linear& c) { return 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]; }

/// WCAG 2.1, definition of "contrast ratio".
double contrast(ImU32 a, ImU32 b) {
    const double la = luminance(linear_of(a));
    const double lb = luminance(linear_of(b));
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

/// CIE 1976 L*a*b*, D65 (CIE 15:2004).
Linear lab_of(const Linear& c) {
    const double x = (0.4124564 * c[0] + 0.3575761 * c[1] + 0.1804375 * c[2]) / 0.95047;
    const double y = 0.2126729 * c[0] + 0.7151522 * c[1] + 0.0721750 * c[2];
    const double z = (0.0193339 * c[0] + 0.1191920 * c[1] + 0.9503041 * c[2]) / 1.08883;
    const auto f = [](double t) { return t > 216.0 / 24389.0 ? std::cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0; };
    return {116.0 * f(y) - 16.0, 500.0 * (f(x) - f(y)), 200.0 * (f(y) - f(z))};
}

double difference(const Linear& a, const Linear& b) {
    const Linear la = lab_of(a);
    const Linear lb = lab_of(b);
    return std::hypot(la[0] - lb[0], la[1] - lb[1], la[2] - lb[2]);
}

/// How an eye without long, middle or short-wave cones sees it: Machado, Oliveira, Fernandes, "A physiologically-based
/// model for simulation of color vision deficiency", IEEE TVCG 15 (2009), table at severity 1.0 (from memory).
Linear seen_by(int eye, const Linear& c) {
    constexpr double kEyes[4][3][3] = {
        {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
        {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
        {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
        {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}};
    Linear seen{};
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) {
            seen[i] += kEyes[eye][i][j] * c[j];
        }
        seen[i] = std::clamp(seen[i], 0.0, 1.0);
    }
    return seen;
}

constexpr std::array<Theme, 2> kThemes{Theme::light, Theme::dark};

} // namespace

TEST_CASE("contrast as WCAG 2.1 counts it: black on white is 21, a colour on itself 1") {
    CHECK(test::near(contrast(rgb(0x000000), rgb(0xFFFFFF)), 21.0, 1e-9));
    CHECK(contrast(rgb(0x123456), rgb(0x123456)) == 1.0);
    // #767676 on white is the well-known greyest grey that passes 4.5 (common practice, no source).
    CHECK(contrast(rgb(0x767676), rgb(0xFFFFFF)) >= 4.5);
    CHECK(contrast(rgb(0x777777), rgb(0xFFFFFF)) < 4.5);
}

TEST_CASE("words keep a contrast of 4.5 on every ground they stand on, in light and dark (WCAG 2.1, 1.4.3)") {
    struct Pair {
        const char* what;
        ThemedColour words, ground;
    };
    using namespace colour;
    std::vector<Pair> pairs;
    const std::array<std::pair<const char*, ThemedColour>, 4> grounds{
        {{"paper", paper}, {"board", board}, {"card", card}, {"chosen", accent_pale}}};
    for (const auto& [name, ground] : grounds) {
        pairs.insert(pairs.end(), {{name, ink, ground},
                                   {name, graphite, ground},
                                   {name, accent, ground},
                                   {name, tight_word, ground},
                                   {name, foul_word, ground}});
    }
    pairs.insert(pairs.end(), {{"missing", faint, board},
                               {"missing", faint, card},
                               {"key", on_accent, accent},
                               {"bad key", on_accent, foul_word},
                               {"closed opening", on_accent, ink},
                               {"slate", chalk, slate},
                               {"rod", ink, rod},
                               {"rod's end", graphite, rod}});
    for (const Theme theme : kThemes) {
        for (const Pair& pair : pairs) {
            CAPTURE(static_cast<int>(theme));
            CAPTURE(pair.what);
            CAPTURE(contrast(pair.words.in(theme), pair.words.in(theme)));
            CHECK(contrast(pair.words.in(theme), pair.ground.in(theme)) >= 4.5);
        }
        // A key under the hand.
        const auto hovered = mixed(accent.in(theme), ink.in(theme), 0.25F);
        CHECK(contrast(on_accent.in(theme), hovered) >= 4.5);
    }
    // Marks and lines that tell something: 3 (WCAG 2.1, 1.4.11).
    for (const Theme theme : kThemes) {
        CHECK(contrast(tight.in(theme), slate.in(theme)) >= 3.0);
        CHECK(contrast(foul.in(theme), slate.in(theme)) >= 3.0);
        CHECK(contrast(foul.in(theme), card.in(theme)) >= 3.0);
        CHECK(contrast(rod_edge.in(theme), rod.in(theme)) >= 1.5); // an ornament
    }
}

TEST_CASE("colours of the verdicts differ for every eye: all cones, or without one kind of them") {
    for (const Theme theme : kThemes) {
        use_theme(theme);
        const std::array<ImU32, 3> marks{mark_colour(Verdict::go), mark_colour(Verdict::marginal),
                                         mark_colour(Verdict::no_go)};
        const std::array<ImU32, 3> bands{colour::slate_clear, colour::tight, colour::foul};
        for (int eye = 0; eye < 4; ++eye) {
            for (const auto& three : {marks, bands}) {
                for (std::size_t i = 0; i < 3; ++i) {
                    for (std::size_t j = i + 1; j < 3; ++j) {
                        CAPTURE(static_cast<int>(theme));
                        CAPTURE(eye);
                        CAPTURE(i);
                        CAPTURE(j);
                        // 2.3 is just noticeable (Mahy et al. 1994); far beyond it they are told apart at a glance.
                        CHECK(difference(seen_by(eye, linear_of(three[i])), seen_by(eye, linear_of(three[j]))) > 20.0);
                    }
                }
            }
        }
    }
    use_theme(Theme::light);
}

TEST_CASE("a colour is the one of the theme in use") {
    use_theme(Theme::dark);
    CHECK(static_cast<ImU32>(colour::card) == colour::card.dark);
    CHECK(theme_in_use() == Theme::dark);
    CHECK(luminance(linear_of(colour::card)) < luminance(linear_of(colour::ink)));
    use_theme(Theme::light);
    CHECK(static_cast<ImU32>(colour::card) == colour::card.light);
    CHECK(luminance(linear_of(colour::card)) > luminance(linear_of(colour::ink)));
}
