#include "tests/checks/clearance/ccd_queries.hpp"

#include "checks/clearance/first_contact.hpp"
#include "checks/clearance/sweep.hpp"
#include "checks/clearance/triangle_distance.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <istream>
#include <limits>
#include <memory>
#include <optional>
#include <stdexcept>
#include <utility>

namespace evenclose::test {
namespace {

constexpr std::size_t kRows = 8;
constexpr double kSameMotion_mm = 1e-9; // corners of one side stray by no more: a thousandth of what counts as touch
constexpr double kFarthest_mm = 1e6;    // what prepare() takes
constexpr std::size_t kMostIntervals = 20'000; // before the primitives are undecided

/// An integer of any length, to the nearest double; the quotient of two such is within an ulp of the rational.
double integer_of(const std::string& text) {
    const std::size_t sign = !text.empty() && text[0] == '-' ? 1 : 0;
    if (text.size() == sign || text.find_first_not_of("0123456789", sign) != std::string::npos) {
        throw std::runtime_error(fmt::format("\"{}\" is no integer", text));
    }
    return std::strtod(text.c_str(), nullptr);
}

std::vector<std::string> fields_of(std::string line) {
    while (!line.empty() && (line.back() == '\r' || line.back() == ' ')) {
        line.pop_back();
    }
    std::vector<std::string> fields(1);
    for (const char c : line) {
        if (c == ',') {
            fields.emplace_back();
        } else {
            fields.back() += c;
        }
    }
    return fields;
}

struct Row {
    Vec3 corner;
    bool meets;
};

Row row_of(const std::string& line) {
    const std::vector<std::string> fields = fields_of(line);
    if (fields.size() != 7) {
        throw std::runtime_error(fmt::format("{} columns; a row has 7", fields.size()));
    }
    Row row{};
    for (int axis = 0; axis < 3; ++axis) {
        const auto place = static_cast<std::size_t>(2 * axis);
        const double denominator = integer_of(fields[place + 1]);
        if (denominator == 0) {
            throw std::runtime_error("a denominator of 0");
        }
        row.corner[axis] = integer_of(fields[place]) / denominator;
        if (!std::isfinite(row.corner[axis])) {
            throw std::runtime_error("a coordinate that no double holds");
        }
    }
    if (fields[6] != "0" && fields[6] != "1") {
        throw std::runtime_error(fmt::format("\"{}\" for the truth, which is 0 or 1", fields[6]));
    }
    row.meets = fields[6] == "1";
    return row;
}

/// One side as a triangle: an edge and a point are triangles without area.
Triangle side(const std::array<Vec3, 4>& corners, std::size_t from, std::size_t to) {
    return {corners[from], corners[std::min(from + 1, to - 1)], corners[std::min(from + 2, to - 1)]};
}

struct TwoSides {
    Triangle first, second;
};
TwoSides sides(const CcdQuery& query, double share, double scale) {
    std::array<Vec3, 4> now;
    for (std::size_t i = 0; i < 4; ++i) {
        now[i] = scale * ((1 - share) * query.start[i] + share * query.end[i]);
    }
    return {side(now, 0, query.first_side()), side(now, query.first_side(), 4)};
}

/// How far the direction (from first to second) parts them; below 0 where it does not.
double parted(const TwoSides& at, const Vec3& direction) {
    double first = -std::numeric_limits<double>::infinity();
    double second = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < 3; ++i) {
        first = std::max(first, glm::dot(direction, at.first[i]));
        second = std::min(second, glm::dot(direction, at.second[i]));
    }
    return second - first;
}

SharedClearanceMesh mesh_of(const Triangle& side) {
    TriangleMesh mesh;
    mesh.vertices_mm.assign(side.begin(), side.end());
    mesh.triangles = {{0, 1, 2}};
    return prepare(std::make_shared<const TriangleMesh>(std::move(mesh)));
}

/// A rotation that brings the unit vector `way` to Z: the shortest, half a turn about X where it points down.
Mat3 upright(const Vec3& way) {
    const double c = way.z;
    if (c < -0.999999) {
        const Mat3 over{Vec3{1, 0, 0}, Vec3{0, -1, 0}, Vec3{0, 0, -1}};
        return upright(over * way) * over;
    }
    const Vec3 axis{way.y, -way.x, 0};
    const double k = 1 / (1 + c); // Rodrigues with sine |axis| and cosine c
    return {Vec3{c + k * axis.x * axis.x, k * axis.x * axis.y, -axis.y},
            Vec3{k * axis.x * axis.y, c + k * axis.y * axis.y, axis.x}, Vec3{axis.y, -axis.x, c}};
}

/// A query as two bodies of which one rides straight up past the other.
struct Ridden {
    TwoSides start;
    Pose laid;
    double way_mm = 0;
    Ride ride;
    [[nodiscard]] bool stands() const { return way_mm < kSameMotion_mm; }
    [[nodiscard]] SweptBody first() const { return {mesh_of(start.first), laid, nullptr}; }
    [[nodiscard]] SweptBody second() const { return {mesh_of(start.second), laid, stands() ? nullptr : &ride}; }
    [[nodiscard]] SweepRequest request() const { return {.from = {0}, .to = {stands() ? 0 : way_mm}}; }
};

std::optional<Ridden> ridden_of(const CcdQuery& query, double mm_per_unit) {
    Vec3 way[2];
    for (const int which : {0, 1}) {
        const std::size_t from = which == 0 ? 0 : query.first_side();
        const std::size_t to = which == 0 ? query.first_side() : 4;
        way[which] = mm_per_unit * (query.end[from] - query.start[from]);
        for (std::size_t i = from; i < to; ++i) {
            const Vec3 own = mm_per_unit * (query.end[i] - query.start[i]);
            const Vec3 reach = mm_per_unit * glm::max(glm::abs(query.start[i]), glm::abs(query.end[i]));
            if (glm::length(own - way[which]) > kSameMotion_mm ||
                std::max({reach.x, reach.y, reach.z}) > kFarthest_mm) {
                return std::nullopt;
            }
        }
    }
    const Vec3 relative = way[1] - way[0];
    Ridden ridden{sides(query, 0, mm_per_unit), {}, glm::length(relative), {}};
    if (!ridden.stands()) {
        ridden.laid.rotation = upright(relative / ridden.way_mm);
    }
    ridden.ride = {Vec3{0.0}, {{{0}, 0, {}}, {{ridden.way_mm}, ridden.way_mm, {}}}};
    return ridden;
}

} // namespace

std::vector<CcdQuery> read_ccd_queries(std::istream& in, CcdKind kind, const std::string& name) {
    std::vector<CcdQuery> queries;
    std::string line;
    std::size_t count = 0;
    while (std::getline(in, line)) {
        if (fields_of(line) == std::vector<std::string>{""}) {
            continue;
        }
        const std::size_t place = count++ % kRows;
        if (place == 0) {
            queries.emplace_back();
            queries.back().kind = kind;
        }
        try {
            const Row row = row_of(line);
            CcdQuery& query = queries.back();
            (place < 4 ? query.start[place] : query.end[place - 4]) = row.corner;
            if (place > 0 && row.meets != query.meets) {
                throw std::runtime_error("another truth than the row before, in one query");
            }
            query.meets = row.meets;
        } catch (const std::runtime_error& fault) {
            throw std::runtime_error(fmt::format("{}: row {}: {}", name, count, fault.what()));
        }
    }
    if (count % kRows != 0) {
        throw std::runtime_error(fmt::format("{}: {} rows are no whole number of queries of {}", name, count, kRows));
    }
    return queries;
}

std::vector<CcdFile> read_ccd_folder(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
        if (entry.is_regular_file() && entry.path().extension() == ".csv") {
            paths.push_back(entry.path());
        }
    }
    std::sort(paths.begin(), paths.end());
    std::vector<CcdFile> files;
    for (const std::filesystem::path& path : paths) {
        const std::string in_folder = path.parent_path().filename().string();
        if (in_folder != "vertex-face" && in_folder != "edge-edge") {
            throw std::runtime_error(fmt::format("{}: lies in a folder named neither vertex-face nor edge-edge, so "
                                                 "which kind its queries are cannot be told",
                                                 path.string()));
        }
        std::ifstream in(path);
        files.push_back({std::filesystem::relative(path, folder).string(),
                         read_ccd_queries(in, in_folder == "edge-edge" ? CcdKind::edge_edge : CcdKind::vertex_face,
                                          path.string())});
    }
    return files;
}

CcdSweepAnswer ask_sweep(const CcdQuery& query, double mm_per_unit) {
    const std::optional<Ridden> ridden = ridden_of(query, mm_per_unit);
    if (!ridden) {
        return {};
    }
    CcdSweepAnswer result;
    result.way_mm = ridden->way_mm;
    Progress progress;
    const Sweep told = sweep(ridden->first(), ridden->second(), ridden->request(), progress);
    if (told.contact != Contact::clear) {
        result.answer = CcdAnswer::meets;
        if (!ridden->stands() && !told.contacts.empty()) {
            result.first_share = told.contacts.front().from.mm / result.way_mm;
        }
    } else {
        result.answer = told.least_lower_mm > 0 ? CcdAnswer::clear : CcdAnswer::undecided;
    }
    return result;
}

CcdSweepAnswer ask_first_contact(const CcdQuery& query, double mm_per_unit) {
    const std::optional<Ridden> ridden = ridden_of(query, mm_per_unit);
    if (!ridden) {
        return {};
    }
    CcdSweepAnswer result;
    result.way_mm = ridden->way_mm;
    Progress progress;
    const FirstContact told = first_contact(ridden->first(), ridden->second(), ridden->request(), progress);
    if (told.contact != Contact::clear) {
        result.answer = CcdAnswer::meets;
        result.first_share = ridden->stands() ? 0 : told.touches_by.mm / result.way_mm;
    } else {
        result.answer = told.clear_until < ridden->request().to ? CcdAnswer::undecided : CcdAnswer::clear;
    }
    return result;
}

CcdAnswer ask_primitives(const CcdQuery& query, double mm_per_unit) {
    std::vector<std::pair<double, double>> left{{0.0, 1.0}};
    std::size_t looked_at = 0;
    while (!left.empty()) {
        const auto [from, to] = left.back();
        left.pop_back();
        const double middle = 0.5 * (from + to);
        const TwoSides at_from = sides(query, from, mm_per_unit);
        const TwoSides at_to = sides(query, to, mm_per_unit);
        bool clear = false;
        for (const double share : {middle, from, to}) {
            const TwoSides at = sides(query, share, mm_per_unit);
            const NearestPoints nearest = nearest_points(at.first, at.second);
            if (nearest.distance <= kTouch_mm) {
                return CcdAnswer::meets;
            }
            clear = clear || (parted(at_from, nearest.direction) > 0 && parted(at_to, nearest.direction) > 0);
        }
        if (clear) {
            continue;
        }
        if (++looked_at > kMostIntervals || !(from < middle && middle < to)) {
            return CcdAnswer::undecided;
        }
        left.emplace_back(from, middle);
        left.emplace_back(middle, to);
    }
    return CcdAnswer::clear;
}

void CcdTally::count(const CcdQuery& query, CcdAnswer answer) {
    if (answer == CcdAnswer::not_asked) {
        ++not_asked;
        return;
    }
    ++asked;
    meeting += query.meets ? 1 : 0;
    missed += query.meets && answer == CcdAnswer::clear ? 1 : 0;
    false_alarms += !query.meets && answer != CcdAnswer::clear ? 1 : 0;
    undecided += answer == CcdAnswer::undecided ? 1 : 0;
}

std::string CcdTally::told() const {
    return fmt::format("{} asked, {} could not be; {} meet, {} missed, {} false alarms, {} undecided", asked, not_asked,
                       meeting, missed, false_alarms, undecided);
}

} // namespace evenclose::test
