#include "viewer/render/look.hpp"

namespace evenclose {
namespace {

constexpr float kDimmedAlpha = 0.22F;     // what is behind one dimmed body keeps four fifths of its strength
constexpr float kDimmedEdgeAlpha = 0.30F; // edges of dimmed bodies tell their shape, more faintly than others

Colour mixed(const Colour& a, const Colour& b, float share) {
    return {a.red + share * (b.red - a.red), a.green + share * (b.green - a.green), a.blue + share * (b.blue - a.blue),
            a.alpha};
}

} // namespace

Look look_of(const DrawnBody& body, const Surroundings& around) {
    const Colour black{0, 0, 0, 1};
    const Colour white{1, 1, 1, 1};
    Look look{body.colour, mixed(body.colour, black, around.edge_darkness)};
    switch (body.emphasis) {
    case Emphasis::plain:
        look.edge.alpha = body.colour.alpha;
        break;
    case Emphasis::lit:
        look.surface = mixed(body.colour, white, 0.30F);
        look.surface.alpha = 1;
        look.edge = around.lit_outline;
        break;
    case Emphasis::dimmed:
        look.surface = mixed(body.colour, around.dimmed, 0.7F);
        look.surface.alpha = kDimmedAlpha * body.colour.alpha;
        look.edge = around.dimmed_edge;
        look.edge.alpha = kDimmedEdgeAlpha * body.colour.alpha;
        break;
    case Emphasis::foul:
        look.surface = around.foul;
        look.surface.alpha = 1;
        look.edge = around.foul_outline;
        look.hatched = true;
        break;
    }
    return look;
}

bool seen_through(const DrawnBody& body) {
    return body.emphasis == Emphasis::dimmed || (body.colour.alpha < 1 && body.emphasis == Emphasis::plain);
}

bool outlined(const DrawnBody& body) { return body.emphasis == Emphasis::lit || body.emphasis == Emphasis::foul; }

} // namespace evenclose
