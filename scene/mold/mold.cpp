#include "scene/mold/mold.hpp"

namespace evenclose {
namespace {

bool is_block(const MoldHalf& half) { return std::holds_alternative<BlockHalf>(half.shape); }

double height_mm(const MoldHalf& half) {
    const auto* block = std::get_if<BlockHalf>(&half.shape);
    return block != nullptr ? block->size_mm.z : bounds_of(*half.mesh).size_mm().z;
}

} // namespace

double PlyStack::loose_thickness_mm() const {
    double sum = plies.empty() ? 0.0 : static_cast<double>(plies.size() - 1) * glue_line_mm;
    for (const Ply& ply : plies) {
        sum += ply.thickness_mm;
    }
    return decks * sum;
}

double PlyStack::pressed_thickness_mm() const { return loose_thickness_mm() - decks * squeeze_mm; }

Mold with_decks(const Mold& mold, int decks) {
    Mold several = mold;
    several.shut_height_mm = mold.closed_shut_height_mm() + (decks - 1) * mold.stack.pressed_thickness_mm();
    several.stack.decks = decks;
    return several;
}

double Mold::closed_shut_height_mm() const {
    if (shut_height_mm) {
        return *shut_height_mm;
    }
    if (is_block(lower) || is_block(upper)) {
        return height_mm(lower) + height_mm(upper) + stack.pressed_thickness_mm();
    }
    return bounds_of(*upper.mesh).high_mm.z - bounds_of(*lower.mesh).low_mm.z;
}

} // namespace evenclose
