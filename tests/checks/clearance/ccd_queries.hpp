// tests/checks/clearance/ccd_queries.hpp: sample queries of continuous collision, read, written and asked of the engine.
//
// A query: a vertex and a face, or two edges, every corner going straight from where it is to where it will be; do they
// ever meet? The file format is that of the benchmark of B. Wang et al., "A large-scale benchmark and an inclusion-based
// algorithm for continuous collision detection", ACM TOG 40(5):188, 2021: comma-separated, eight rows a query (the four
// corners at the start, then at the end; the vertex first, or one edge and then the other), seven columns a row (x, y and
// z each as numerator and denominator, then the truth, 1 or 0, the same in all eight).
//
// What can be asked. Our rides carry a whole body along the stroke, tilting it a little; they do not bend it. So the sweep
// can answer a query in which all corners of one side share one motion, and all of the other: what is left is one
// straight way, which is laid along the stroke. Every query can be asked of the primitives: nearest_points at a moment
// gives a direction; the least of its products with the differences of corners is concave over time, so where it parts
// the two at both ends of a time interval it does so all through. (contact_lasts cannot be asked: it tells of contact
// that is there all the way, and only of an edge that goes through the inside of a face.)
#pragma once

#include "scene/vec.hpp"

#include <array>
#include <cstddef>
#include <filesystem>
#include <iosfwd>
#include <string>
#include <vector>

namespace evenclose::test {

enum class CcdKind { vertex_face, edge_edge };

struct CcdQuery {
    CcdKind kind = CcdKind::vertex_face;
    std::array<Vec3, 4> start, end; // in the file's own unit
    bool meets = false;             // the truth
    [[nodiscard]] std::size_t first_side() const { return kind == CcdKind::vertex_face ? 1 : 2; } // corners of it
};

/// Faults: std::runtime_error naming `name`, the row and what is wrong with it.
[[nodiscard]] std::vector<CcdQuery> read_ccd_queries(std::istream& in, CcdKind kind, const std::string& name);
/// All *.csv below a folder; the kind by the folder they lie in, vertex-face or edge-edge.
struct CcdFile {
    std::string name;
    std::vector<CcdQuery> queries;
};
[[nodiscard]] std::vector<CcdFile> read_ccd_folder(const std::filesystem::path& folder);

enum class CcdAnswer {
    clear,     // certain that they do not meet
    meets,     // certain that they come within kTouch_mm
    undecided, // neither: to be taken for a contact
    not_asked, // the sides are bent on the way, or farther off than the engine takes
};
struct CcdSweepAnswer {
    CcdAnswer answer = CcdAnswer::not_asked;
    double first_share = 0; // of the way at which they first meet
    double way_mm = 0;
};
[[nodiscard]] CcdSweepAnswer ask_sweep(const CcdQuery& query, double mm_per_unit);
/// The same of first_contact alone.
[[nodiscard]] CcdSweepAnswer ask_first_contact(const CcdQuery& query, double mm_per_unit);
[[nodiscard]] CcdAnswer ask_primitives(const CcdQuery& query, double mm_per_unit);

/// Missed: they meet and the answer is clear. False alarm: they do not and it is not clear.
struct CcdTally {
    std::size_t asked = 0, not_asked = 0, meeting = 0, missed = 0, false_alarms = 0, undecided = 0;
    void count(const CcdQuery& query, CcdAnswer answer);
    [[nodiscard]] std::string told() const;
};

} // namespace evenclose::test
