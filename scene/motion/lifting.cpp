#include "scene/motion/lifting.hpp"

#include "scene/press/guide_limits.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Rounding of heights near 1 m over levers near 1 m; on a platen of 2 m it is a millionth of a micrometre. A level
// platen must come out level, or it would be swept as a tilting one.
constexpr double kNoSlope = 1e-12;

double without_rounding(double slope) { return std::abs(slope) < kNoSlope ? 0.0 : slope; }

SlopeRange without_rounding(const SlopeRange& range) {
    return {{without_rounding(range.low.x), without_rounding(range.low.y)},
            {without_rounding(range.high.x), without_rounding(range.high.y)}};
}

// More knots cost the clearance engine a stop each; what is left of the widening at so many is told by nobody.
constexpr std::size_t kMostKnots = 24;
// What the envelope may be too wide by at the platen's end, before another knot is put in.
constexpr double kWidening_mm = 0.02;

// A sleeve that has all but left its post no longer holds the platen; the guides' own finding tells that.
constexpr double kLeastEngaged = 0.1;

std::vector<HeadHeight> open_heads(const Press& press, LevelSource source) {
    std::vector<HeadHeight> heads;
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        const Jack& jack = press.jacks[i];
        const double height = source == LevelSource::measured ? press.measured_heights->heads_mm.front()[i]
                                                              : jack.head_z_mm(jack.parked_mm);
        heads.push_back({Vec2{jack.foot_mm}, height});
    }
    return heads;
}

std::variant<ModelledHeads, TabledHeads> heads_of(const Press& press, LevelSource source, const LevelPlane& open) {
    if (source == LevelSource::measured) {
        return TabledHeads(press);
    }
    return ModelledHeads(press, source == LevelSource::linked, open);
}

} // namespace

const char* name_of(LevelSource source) {
    switch (source) {
    case LevelSource::unlinked:
        return "unlinked";
    case LevelSource::linked:
        return "linked";
    case LevelSource::measured:
        return "measured";
    }
    return "";
}

LevelSource level_source(const Press& press) {
    if (press.measured_heights) {
        return LevelSource::measured;
    }
    return press.link_shafts.empty() || !link_unknown(press).empty() ? LevelSource::unlinked : LevelSource::linked;
}

Lifting::Lifting(const Press& press, LevelSource source)
    : source_(source), open_(plane_through(open_heads(press, source))), jacks_(press.jacks), guides_(press.guides),
      platen_thickness_mm_(press.platen.thickness_mm), heads_(heads_of(press, source, open_)) {
    for (const Jack& jack : jacks_) {
        lever_mm_ = std::max(lever_mm_, glm::length(Vec2{jack.foot_mm} - open_.centroid_mm));
    }
}

double Lifting::guide_play(Travel at) const {
    if (!open_.in_line || guides_.empty()) {
        return 0;
    }
    const double face_z = open_height_mm() + platen_thickness_mm_ + lift_mm(at);
    double least = std::numeric_limits<double>::infinity();
    for (const Guide& guide : guides_) {
        const double engaged = std::max(engaged_length_mm(guide, face_z), kLeastEngaged * guide.length_mm);
        least = std::min(least, tilt_until_contact_rad(guide.bore_diameter_mm, guide.post_diameter_mm, engaged));
    }
    return std::tan(least);
}

Travel Lifting::end_of_stroke() const {
    return std::visit([](const auto& heads) { return heads.end_of_stroke(); }, heads_);
}
std::size_t Lifting::first_to_end() const {
    return std::visit([](const auto& heads) { return heads.first_to_end(); }, heads_);
}
bool Lifting::table_ends_first() const { return tabled() != nullptr && tabled()->table_ends_first(); }

double Lifting::lift_mm(Travel at) const {
    return tabled() != nullptr ? tabled()->lift_mm(at) : modelled()->lift_a_travel() * at.mm;
}

Travel Lifting::travel_at_lift(double lift_mm) const {
    return tabled() != nullptr ? tabled()->travel_at_lift(lift_mm) : Travel{lift_mm / modelled()->lift_a_travel()};
}

std::vector<HeadHeight> Lifting::heads(Travel at) const {
    std::vector<double> z;
    if (tabled() != nullptr) {
        z = tabled()->heads_mm(at);
    } else {
        z = modelled()->rises_mm(at);
        for (std::size_t i = 0; i < z.size(); ++i) {
            z[i] += jacks_[i].head_z_mm(jacks_[i].parked_mm);
        }
    }
    std::vector<HeadHeight> heads;
    for (std::size_t i = 0; i < z.size(); ++i) {
        heads.push_back({Vec2{jacks_[i].foot_mm}, z[i]});
    }
    return heads;
}

Slope Lifting::nominal_slope(Travel at) const { return plane_through(heads(at)).slope; }

double Lifting::out_mm(std::size_t jack, Travel at) const {
    return heads(at)[jack].height_mm - jacks_[jack].head_z_mm(0);
}

std::optional<double> Lifting::seconds(Travel at) const {
    return modelled() != nullptr ? modelled()->seconds(at) : std::nullopt;
}

SlopeRange Lifting::jack_slope_range(Travel at) const {
    if (modelled() != nullptr) {
        return without_rounding(modelled()->slope_range(at));
    }
    const Slope middle = nominal_slope(at);
    Slope reach;
    for (const Slope& weight : open_.slope_a_mm_head) {
        reach.x += std::abs(weight.x) * tabled()->spread_mm();
        reach.y += std::abs(weight.y) * tabled()->spread_mm();
    }
    return without_rounding(
        SlopeRange{{middle.x - reach.x, middle.y - reach.y}, {middle.x + reach.x, middle.y + reach.y}});
}

SlopeRange Lifting::slope_range(Travel at) const {
    SlopeRange range = jack_slope_range(at);
    const double play = guide_play(at);
    const Vec2 across = open_.across_line;
    range.low.x -= std::abs(across.x) * play;
    range.low.y -= std::abs(across.y) * play;
    range.high.x += std::abs(across.x) * play;
    range.high.y += std::abs(across.y) * play;
    return range;
}

Lifting::Piece Lifting::piece_between(Travel from, Travel to) const {
    Piece piece{from, to, {}, 0};
    if (modelled() == nullptr) {
        return piece; // a table is straight between its rows
    }
    const SlopeRange a = jack_slope_range(from);
    const SlopeRange b = jack_slope_range(to);
    const BetweenKnots between = modelled()->between(from, to, a, b);
    piece.outside = without_rounding(between.outside);
    double too_wide =
        std::max({-piece.outside.low.x, -piece.outside.low.y, piece.outside.high.x, piece.outside.high.y});
    // Where the envelope sags below its chord the chord is too wide by itself: a few places tell.
    constexpr int kPlaces = 8;
    for (int i = 1; i < kPlaces; ++i) {
        const double share = static_cast<double>(i) / kPlaces;
        const SlopeRange here = jack_slope_range({std::lerp(from.mm, to.mm, share)});
        too_wide = std::max({too_wide, std::lerp(a.high.x, b.high.x, share) - here.high.x,
                             std::lerp(a.high.y, b.high.y, share) - here.high.y,
                             here.low.x - std::lerp(a.low.x, b.low.x, share),
                             here.low.y - std::lerp(a.low.y, b.low.y, share)});
    }
    piece.missed = std::max(too_wide * lever_mm_ / kWidening_mm, between.off_chord_mm / kHeadRide_mm);
    return piece;
}

std::vector<Lifting::Piece> Lifting::pieces() const {
    const Travel end = end_of_stroke();
    if (!(end > Travel{0})) {
        return {};
    }
    std::vector<Travel> knots{{0}, end};
    std::vector<Travel> wanted = modelled() != nullptr ? modelled()->kinks() : tabled()->rows();
    for (const Guide& guide : guides_) { // where a sleeve begins to leave its post
        const double face_z = open_height_mm() + platen_thickness_mm_;
        wanted.push_back(travel_at_lift(guide.post_to_z_mm + guide.sleeve_below_top_mm - face_z));
        wanted.push_back(travel_at_lift(guide.post_from_z_mm + guide.sleeve_below_top_mm + guide.length_mm - face_z));
    }
    std::copy_if(wanted.begin(), wanted.end(), std::back_inserter(knots),
                 [&](Travel at) { return Travel{0} < at && at < end; });
    std::sort(knots.begin(), knots.end());
    knots.erase(std::unique(knots.begin(), knots.end()), knots.end());

    std::vector<Piece> pieces;
    for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
        pieces.push_back(piece_between(knots[i], knots[i + 1]));
    }
    while (pieces.size() + 1 < kMostKnots) {
        const auto worst = std::max_element(pieces.begin(), pieces.end(),
                                            [](const Piece& a, const Piece& b) { return a.missed < b.missed; });
        if (worst->missed <= 1) {
            break;
        }
        const Travel half{0.5 * (worst->from.mm + worst->to.mm)};
        const Piece after = piece_between(half, worst->to);
        *worst = piece_between(worst->from, half);
        pieces.insert(worst + 1, after);
    }
    return pieces;
}

Ride Lifting::platen_ride(const std::vector<Piece>& pieces, bool with_play) const {
    // Play only grows or shrinks over a piece.
    const auto outside = [&](const Piece& piece) {
        const double unlike = with_play ? std::abs(guide_play(piece.to) - guide_play(piece.from)) : 0.0;
        const Vec2 across{std::abs(open_.across_line.x) * unlike, std::abs(open_.across_line.y) * unlike};
        SlopeRange result = piece.outside;
        result.low.x -= across.x;
        result.low.y -= across.y;
        result.high.x += across.x;
        result.high.y += across.y;
        return result;
    };
    Ride ride;
    ride.pivot_mm = {open_.centroid_mm, open_.height_at_centroid_mm};
    SlopeRange before;
    for (std::size_t i = 0; i <= pieces.size(); ++i) {
        // A knot serves the pieces on both its sides.
        const Travel at = i == 0 ? Travel{0} : pieces[i - 1].to;
        const SlopeRange after = i < pieces.size() ? outside(pieces[i]) : SlopeRange{};
        SlopeRange range = with_play ? slope_range(at) : jack_slope_range(at);
        range.low.x += std::min(before.low.x, after.low.x);
        range.low.y += std::min(before.low.y, after.low.y);
        range.high.x += std::max(before.high.x, after.high.x);
        range.high.y += std::max(before.high.y, after.high.y);
        ride.knots.push_back({at, lift_mm(at), range});
        before = after;
    }
    return ride;
}

LiftingRides Lifting::rides() const {
    const std::vector<Piece> all = pieces();
    LiftingRides rides{platen_ride(all, true), platen_ride(all, false), {}};
    for (std::size_t jack = 0; jack < jacks_.size(); ++jack) {
        Ride ride;
        ride.pivot_mm = jacks_[jack].foot_mm;
        for (const RideKnot& knot : rides.platen.knots) {
            ride.knots.push_back({knot.at, out_mm(jack, knot.at) - jacks_[jack].parked_mm, {}});
        }
        rides.heads.push_back(std::move(ride));
    }
    return rides;
}

} // namespace evenclose
