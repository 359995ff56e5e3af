// scene/mold/mold.hpp: two mold halves and the ply stack that is pressed between them. Plain data, mm.
//
// Mold frame: drawn closed on the stack, Z up along the stroke, X along the deck. The lower half's seat is its lowest
// level, the upper half's seat its highest.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"
#include "scene/mold/glue.hpp"
#include "scene/vec.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

/// A half as a plain block, middle of its seat at `seat_centre_mm` (mold X, Y), as a stand-in until there is a mesh.
struct BlockHalf {
    Vec3 size_mm{0.0};
    Vec2 seat_centre_mm{0.0};
};

/// A half as a mesh file. `offset_mm` and `turn_rad` (about Z) bring it into the mold frame, after the unit.
struct MeshHalf {
    std::string file;                // as written in the document, relative to it
    std::optional<std::string> unit; // "mm", "cm", "m", "in"; none: guessed, and the guess is told
    Vec3 offset_mm{0.0};
    double turn_rad = 0;
    bool flip = false; // turned half round about X first: drawn face up for printing
};

struct MoldHalf {
    std::variant<BlockHalf, MeshHalf> shape;
    std::string material;
    /// The half in the mold frame, mm: made by reading the mesh, or the block. Null only before loading.
    SharedMesh mesh;
    std::string unit_note; // "taken as mm (stated)", "taken as inch (guessed: ...)"; empty for a block
};

enum class Grain { along, across }; // grain along the deck (X), or across it (a cross-band)

struct Ply {
    double thickness_mm = 0;
    std::string species;
    Grain grain = Grain::along;
    /// Smallest radius that this ply takes cold and dry, as the shop has tried it, bent along its grain (the fibres curve)
    /// and across it; none: estimated from the species.
    std::optional<double> bend_radius_mm{}, bend_radius_across_mm{};
};

struct PlyStack {
    std::vector<Ply> plies;                                 // from the lower half upward
    double glue_line_mm = 0;                                // thickness of one, n - 1 of them
    double squeeze_mm = 0;                                  // how much the whole stack gives under pressure
    std::optional<double> glue_pressure_MPa = std::nullopt; // that the glue's data sheet asks for
    std::optional<Glue> glue = std::nullopt;                // what the sheet says of time
    int decks = 1; // so many such stacks lie one on the other; `plies` are those of one

    /// Sum of plies and glue lines less the squeeze (REFERENCE 9), of all decks together.
    [[nodiscard]] double pressed_thickness_mm() const;
    [[nodiscard]] double loose_thickness_mm() const; // before pressing: no squeeze taken off
};

/// How a mold gets into the press: closed on its flat stack, or each half by itself and the stack after them.
enum class Loading { sandwich, halves };

/// How halves that are meshes get printed.
struct PrintJob {
    std::optional<Vec3> build_volume_mm; // usable: X, Y, height
    std::optional<double> fill;          // 0 to 1
    std::optional<double> wall_mm;       // thickness of the shell
    std::optional<double> cost_a_kilo;   // in the shop's money
};

struct Mold {
    std::string name;
    std::string file; // where it was read from
    MoldHalf lower, upper;
    std::optional<double> shut_height_mm; // seat to seat when closed; none: from the halves as drawn
    std::optional<Vec2> deck_size_mm;     // length (X) and width (Y) of the pressed deck, if given
    std::string deck_outline_file;        // as written, relative to the document; empty: corners stand in it, or none
    std::vector<Vec2> deck_outline_mm; // of the pressed deck as seen along the stroke, if given; stands before its size
    PlyStack stack;
    Loading loading = Loading::sandwich;
    std::optional<PrintJob> print;

    /// Seat to seat when closed on the stack. Stated value; else, when both halves are meshes drawn in one closed
    /// frame, top of the upper less bottom of the lower; else (a block is among them) heights plus pressed stack.
    [[nodiscard]] double closed_shut_height_mm() const;
};

/// The mold with so many decks in it, one on the other: its stack is so much thicker, and it closes so much less far.
/// Needs: a mold for one deck, loaded; decks of 1 or more.
[[nodiscard]] Mold with_decks(const Mold& mold, int decks);

} // namespace evenclose
