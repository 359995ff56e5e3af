// scene/motion/lifting.hpp: what the jacks do to the platen over the whole travel: its height, its slope, and everything
// that the slope may be.
//
// Travel is the nominal rise of the platen's middle (the centroid of the jack heads); only without drives, where all
// jacks rise evenly, is it the rise of a jack of rate 1; with measured heights it is the travel of their table.
//
// The envelope at a travel holds every slope that the platen may have when its middle stands that high, however drives
// stray, shafts twist or readings are off (modelled_heads.hpp, tabled_heads.hpp). Across a single line of jacks nothing
// but the guides holds the platen: there it may rock as far as the tightest sleeve lets it.
#pragma once

#include "scene/motion/modelled_heads.hpp"
#include "scene/motion/tabled_heads.hpp"

#include <cstddef>
#include <optional>
#include <variant>
#include <vector>

namespace evenclose {

enum class LevelSource { unlinked, linked, measured };
[[nodiscard]] const char* name_of(LevelSource source); // "unlinked", "linked", "measured"

/// What counts for this press: its measured heights if it has some; else its link shafts if their twist can be told;
/// else each drive by itself.
[[nodiscard]] LevelSource level_source(const Press& press);

/// Rides from 0 to the end of the stroke, piecewise linear over the same knots. The platen's ranges of slope enclose
/// slope_range at every travel, between the knots too: widened by what the straight line between them can miss, which is
/// bounded by how steep the heads' paths can be there (head_path.hpp). A head's own ride is as near as kHeadRide_mm to its
/// nominal path where so many knots allow it.
struct LiftingRides {
    Ride platen;
    Ride jacks_alone; // the platen's, without what the guides let it rock
    std::vector<Ride> heads;
};

class Lifting {
public:
    /// Needs: two jacks or more, without faults, finite, rates above 0; what the source asks for. Keeps no reference to
    /// the press.
    Lifting(const Press& press, LevelSource source);

    [[nodiscard]] LevelSource source() const { return source_; }
    [[nodiscard]] Vec2 centroid_mm() const { return open_.centroid_mm; }
    [[nodiscard]] double open_height_mm() const { return open_.height_at_centroid_mm; } // of the heads, at travel 0
    [[nodiscard]] bool in_line() const { return open_.in_line; } // across the line only guides hold the platen
    /// How far the guides let it rock across that line, as a slope either way; 0 when not in line, or without guides.
    [[nodiscard]] double guide_play(Travel at) const;

    /// Where the first jack ends, or the table of measured heights.
    [[nodiscard]] Travel end_of_stroke() const;
    [[nodiscard]] std::size_t first_to_end() const;
    [[nodiscard]] bool table_ends_first() const;

    /// Rise of the platen's middle, and back; on the last slope beyond the end of the stroke.
    [[nodiscard]] double lift_mm(Travel at) const;
    [[nodiscard]] Travel travel_at_lift(double lift_mm) const;

    /// Nominal: drives as told, no lag.
    [[nodiscard]] std::vector<HeadHeight> heads(Travel at) const;
    [[nodiscard]] Slope nominal_slope(Travel at) const;
    /// How far a jack stands out, from its closed height.
    [[nodiscard]] double out_mm(std::size_t jack, Travel at) const;
    /// Seconds from open; none without drives, or with measured heights.
    [[nodiscard]] std::optional<double> seconds(Travel at) const;

    /// By the jacks alone; and with the guides' play across their line.
    [[nodiscard]] SlopeRange jack_slope_range(Travel at) const;
    [[nodiscard]] SlopeRange slope_range(Travel at) const;

    [[nodiscard]] LiftingRides rides() const;

private:
    [[nodiscard]] const ModelledHeads* modelled() const { return std::get_if<ModelledHeads>(&heads_); }
    [[nodiscard]] const TabledHeads* tabled() const { return std::get_if<TabledHeads>(&heads_); }
    /// A piece of the stroke between two knots, and what straight lines over it leave out.
    struct Piece {
        Travel from, to;
        SlopeRange outside; // of the jacks' own slopes
        double missed = 0;  // in units of what may be missed
    };
    [[nodiscard]] Piece piece_between(Travel from, Travel to) const;
    [[nodiscard]] std::vector<Piece> pieces() const;
    [[nodiscard]] Ride platen_ride(const std::vector<Piece>& pieces, bool with_play) const;

    LevelSource source_;
    LevelPlane open_; // the heads at travel 0
    std::vector<Jack> jacks_;
    std::vector<Guide> guides_;
    double platen_thickness_mm_ = 0;
    double lever_mm_ = 0; // of the farthest head from their middle
    std::variant<ModelledHeads, TabledHeads> heads_;
};

// A screw or a link is swept this near to where its law puts it; printed parts and welds are no better.
inline constexpr double kHeadRide_mm = 0.05;

} // namespace evenclose
