// checks/bend/ply_wood.hpp: what a ply's wood takes when it is bent cold, and how stiff it is both ways.
//
// A strip of thickness t bent to radius R is strained by t / 2R on its outside (REFERENCE 8). A dry clear strip along
// the grain breaks on the average at about the modulus of rupture over E (Wood Handbook, FPL-GTR-282, table 5-3a), R/t 58
// to 63 for maple, birch, beech and oak. Across the grain it bends further: the plywood table of FAA AC 43.13-1B allows
// 0.55 to 0.67 of the radius that way, so an unstated species takes 1.6 times the strain (derived from that table, which
// is about plywoods: an estimate). What the shop has tried on its own veneer (`bend_radius`) stands before all that: no
// single R/t holds for all plies.
#pragma once

#include "scene/mold/mold.hpp"

#include <optional>
#include <string>

namespace evenclose {

struct PlyWood {
    // Strain at which the mean piece breaks; none: the species is not known and no radius is stated.
    std::optional<double> breaks_along, breaks_across;
    bool tried_along = false, tried_across = false; // the shop's own radius
    // MPa; none: the species is not known.
    std::optional<double> E_along_MPa, E_across_MPa;
};

[[nodiscard]] PlyWood wood_of(const Ply& ply);

/// Spring-back of a stack bonded in the bent state, elastic, rigid glue lines: the share of its curvature that it loses
/// when the press opens, sum Ei ti^3 / 12 over the bonded EI about its neutral axis (REFERENCE 8: 1/n^2 for n equal
/// parallel plies). An estimate: creep, the glue's water and an unbalanced lay-up come on top.
struct SpringBack {
    double along = 0, across = 0; // share of curvature lost lengthwise and crosswise
};
/// None if a ply's stiffness is not known.
[[nodiscard]] std::optional<SpringBack> spring_back(const PlyStack& stack);

} // namespace evenclose
