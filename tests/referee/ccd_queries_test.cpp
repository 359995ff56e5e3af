// Random queries of continuous collision with exact rational truth, through a file and the reader, asked of the engine.
//
// Truth comes from CGAL 5.5 in exact rationals. Where the sides go straight as they are, the one seen from the other
// sweeps a segment (a vertex) or a parallelogram (an edge), which meets the other side or not. Where corners go their own
// ways, truth is by construction: a meeting is drawn first and the ways led through it, or both ends of the way are
// parted along one direction, which parts them all along. EVENCLOSE_LONG=1 runs a hundred times as many.
#include "tests/checks/clearance/ccd_queries.hpp"
#include "tests/referee/exact.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cstdlib>
#include <optional>
#include <random>
#include <sstream>
#include <string>

namespace evenclose {
namespace {

using exact::ExactKernel;
using exact::Number;
using Point = ExactKernel::Point_3;
using Vector = ExactKernel::Vector_3;
using test::CcdAnswer;
using test::CcdKind;
using test::CcdQuery;
using test::CcdTally;

constexpr double kScale = 64; // our millimetres to one of the queries' units

struct ExactQuery {
    CcdKind kind = CcdKind::vertex_face;
    std::array<Point, 4> start, end;
    bool meets = false;
    std::optional<Number> first_share; // of the way at which they first meet, where it is known
    [[nodiscard]] std::size_t first_side() const { return kind == CcdKind::vertex_face ? 1 : 2; }
};

class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}
    int whole(int from, int to) { return std::uniform_int_distribution<int>(from, to)(random_); }
    bool one_in(int n) { return whole(1, n) == 1; }
    /// On a grid of eighths, whole numbers, or thirds (which no double holds).
    Number number(int size) {
        switch (whole(0, 3)) {
        case 0:
            return whole(-size, size);
        case 1:
            return Number(whole(-3 * size, 3 * size)) / 3;
        default:
            return Number(whole(-8 * size, 8 * size)) / 8;
        }
    }
    Number share() { return Number(whole(0, 8)) / 8; }
    Point point(int size) { return {number(size), number(size), number(size)}; }
    /// As little as 2^-12 of a unit, 1/64 mm; or half a thousandth of that.
    Number little() { return Number(1) / (one_in(2) ? 4096 : 8'388'608); }

private:
    std::mt19937 random_;
};

/// The points in which a sweep of the first side, seen from the second, meets it.
std::vector<Point> met(const exact::Simplex<ExactKernel>& swept, const exact::Simplex<ExactKernel>& still) {
    std::vector<Point> points;
    if (!exact::meet(swept, still)) {
        return points;
    }
    if (swept.dimension() + still.dimension() == 3 || (swept.dimension() == 1 && still.dimension() == 1)) {
        const auto take = [&points](const auto& result) {
            if (result) {
                if (const auto* point = boost::get<Point>(&*result)) {
                    points.push_back(*point);
                } else if (const auto* segment = boost::get<ExactKernel::Segment_3>(&*result)) {
                    points.push_back(segment->source());
                    points.push_back(segment->target());
                }
            }
        };
        if (swept.dimension() == 2) {
            take(CGAL::intersection(swept.triangle(), still.edge(0)));
        } else if (still.dimension() == 2) {
            take(CGAL::intersection(still.triangle(), swept.edge(0)));
        } else {
            take(CGAL::intersection(swept.edge(0), still.edge(0)));
        }
    }
    return points;
}

/// Truth of a query whose sides go straight as they are.
void decide(ExactQuery& query) {
    const Vector way = (query.end[0] - query.start[0]) - (query.end[3] - query.start[3]);
    if (query.kind == CcdKind::vertex_face) {
        const Point& from = query.start[0];
        const auto swept = exact::simplex_of<ExactKernel>({from, from + way});
        const auto face = exact::simplex_of<ExactKernel>({query.start[1], query.start[2], query.start[3]});
        query.meets = exact::meet(swept, face);
        if (way.squared_length() > 0) {
            for (const Point& point : met(swept, face)) {
                const Number share = (point - from) * way / way.squared_length();
                query.first_share = query.first_share ? std::min(*query.first_share, share) : share;
            }
        }
        return;
    }
    const Point& a0 = query.start[0];
    const Point& a1 = query.start[1];
    const auto other = exact::simplex_of<ExactKernel>({query.start[2], query.start[3]});
    for (const auto& half : {exact::simplex_of<ExactKernel>({a0, a1, a1 + way}),
                             exact::simplex_of<ExactKernel>({a0, a1 + way, a0 + way})}) {
        query.meets = query.meets || exact::meet(half, other);
        const Vector along = a1 - a0;
        const Vector normal = CGAL::cross_product(along, way);
        if (normal.squared_length() == 0) {
            continue;
        }
        for (const Point& point : met(half, other)) { // point = a0 + u along + share way
            const Number share = CGAL::cross_product(along, point - a0) * normal / normal.squared_length();
            query.first_share = query.first_share ? std::min(*query.first_share, share) : share;
        }
    }
}

/// Along the stroke, or along another way that both sides share; a third of them made to graze or to miss by little.
ExactQuery straight_query(Draw& draw, CcdKind kind) {
    ExactQuery query;
    query.kind = kind;
    for (Point& corner : query.start) {
        corner = draw.point(4);
    }
    const bool along_z = !draw.one_in(4);
    Vector way = along_z ? Vector(0, 0, draw.number(8)) : draw.point(6) - CGAL::ORIGIN;
    const Vector both = draw.one_in(3) ? draw.point(3) - CGAL::ORIGIN : Vector(0, 0, 0);
    if (draw.one_in(8)) { // a face or edge without extent
        query.start[2] = query.start[3];
    }
    const int aimed = draw.whole(0, 3);
    if (aimed <= 1) {
        // A point of either side that shall meet at some share of the way: on a corner, an edge, or within.
        const std::size_t first = query.first_side();
        const Number u = draw.share();
        const Number v = draw.one_in(2) ? Number(0) : draw.share() * (1 - u);
        const Point& corner = query.start[first];
        const Point target = kind == CcdKind::vertex_face
                                 ? corner + u * (query.start[2] - corner) + v * (query.start[3] - corner)
                                 : corner + u * (query.start[3] - corner);
        const Point from = kind == CcdKind::vertex_face
                               ? query.start[0]
                               : query.start[0] + draw.share() * (query.start[1] - query.start[0]);
        Vector shift = target - (from + draw.share() * way);
        if (aimed == 1) { // and past it, or short of it, by little
            shift = shift + draw.little() * Vector(draw.whole(-1, 1), draw.whole(-1, 1), draw.whole(-1, 1));
        }
        for (std::size_t i = 0; i < first; ++i) {
            query.start[i] = query.start[i] + shift;
        }
    }
    for (std::size_t i = 0; i < 4; ++i) {
        query.end[i] = query.start[i] + both + (i < query.first_side() ? way : Vector(0, 0, 0));
    }
    decide(query);
    return query;
}

/// Every corner on a way of its own; the sides meet by construction, or are parted by it.
ExactQuery bent_query(Draw& draw, CcdKind kind) {
    ExactQuery query;
    query.kind = kind;
    for (std::size_t i = 0; i < 4; ++i) {
        query.start[i] = draw.point(4);
        query.end[i] = draw.point(4);
    }
    query.meets = draw.one_in(2);
    if (query.meets) {
        const Number share = draw.share();
        const auto at = [&](std::size_t i) { return query.start[i] + share * (query.end[i] - query.start[i]); };
        const Number u = draw.share();
        const Number v = draw.one_in(2) ? Number(0) : draw.share() * (1 - u);
        Vector shift;
        if (kind == CcdKind::vertex_face) {
            shift = at(1) + u * (at(2) - at(1)) + v * (at(3) - at(1)) - at(0);
        } else {
            shift = at(2) + u * (at(3) - at(2)) - (at(0) + v * (at(1) - at(0)));
        }
        for (std::size_t i = 0; i < query.first_side(); ++i) {
            query.start[i] = query.start[i] + shift;
            query.end[i] = query.end[i] + shift;
        }
        return query;
    }
    Vector apart(draw.whole(-3, 3), draw.whole(-3, 3), draw.whole(1, 3));
    const Number gap = draw.one_in(2) ? draw.little() : Number(1) / 16;
    for (std::array<Point, 4>* corners : {&query.start, &query.end}) {
        std::optional<Number> first_high;
        std::optional<Number> second_low;
        for (std::size_t i = 0; i < 4; ++i) {
            const Number along = ((*corners)[i] - CGAL::ORIGIN) * apart;
            std::optional<Number>& bound = i < query.first_side() ? first_high : second_low;
            bound = !bound ? along : i < query.first_side() ? std::max(*bound, along) : std::min(*bound, along);
        }
        const Vector shift = (*first_high - *second_low) / apart.squared_length() * apart + gap * apart;
        for (std::size_t i = query.first_side(); i < 4; ++i) {
            (*corners)[i] = (*corners)[i] + shift;
        }
    }
    return query;
}

std::string rows_of(const ExactQuery& query) {
    std::ostringstream rows;
    for (const std::array<Point, 4>* corners : {&query.start, &query.end}) {
        for (const Point& corner : *corners) {
            for (const Number& value : {corner.x(), corner.y(), corner.z()}) {
                const auto [numerator, denominator] = [&] {
                    CGAL::Fraction_traits<Number>::Numerator_type over;
                    CGAL::Fraction_traits<Number>::Denominator_type under;
                    CGAL::Fraction_traits<Number>::Decompose()(value, over, under);
                    return std::pair{over, under};
                }();
                rows << numerator << ',' << denominator << ',';
            }
            rows << (query.meets ? 1 : 0) << '\n';
        }
    }
    return rows.str();
}

struct Result {
    CcdTally sweep, first_contact, primitives;
    int first_contacts = 0, late = 0, early = 0;
};

void ask(const std::vector<ExactQuery>& queries, CcdKind kind, bool straight, Result& result) {
    std::ostringstream file;
    for (const ExactQuery& query : queries) {
        file << rows_of(query);
    }
    std::istringstream in(file.str());
    const std::vector<CcdQuery> read = test::read_ccd_queries(in, kind, "random queries");
    REQUIRE(read.size() == queries.size());
    for (std::size_t i = 0; i < read.size(); ++i) {
        CAPTURE(i);
        CAPTURE(rows_of(queries[i]));
        REQUIRE(read[i].meets == queries[i].meets);
        const test::CcdSweepAnswer told = test::ask_sweep(read[i], kScale);
        const CcdAnswer by_primitives = test::ask_primitives(read[i], kScale);
        const test::CcdSweepAnswer first = test::ask_first_contact(read[i], kScale);
        result.sweep.count(read[i], told.answer);
        result.first_contact.count(read[i], first.answer);
        result.primitives.count(read[i], by_primitives);
        if (straight) {
            CHECK(told.answer != CcdAnswer::not_asked);
        }
        if (read[i].meets) {
            CHECK(told.answer == (straight ? CcdAnswer::meets : CcdAnswer::not_asked));
            CHECK(first.answer != CcdAnswer::clear);
            CHECK(by_primitives != CcdAnswer::clear);
            for (const test::CcdSweepAnswer& answer : {told, first}) {
                if (answer.answer == CcdAnswer::meets && queries[i].first_share) {
                    ++result.first_contacts;
                    // Contact is anything within kTouch_mm, and a way almost along a face comes within that long before.
                    const double late = (answer.first_share - CGAL::to_double(*queries[i].first_share)) * answer.way_mm;
                    CHECK(late <= 0.01);
                    result.late += late > 0.01 ? 1 : 0;
                    result.early += late < -0.01 ? 1 : 0;
                }
            }
        }
    }
}

} // namespace

TEST_CASE("random queries of continuous collision with exact truth: none missed") {
    const int count = std::getenv("EVENCLOSE_LONG") != nullptr ? 50'000 : 500; // NOLINT(concurrency-mt-unsafe)
    Draw draw(20'261'126);
    for (const bool straight : {true, false}) {
        Result result;
        for (const CcdKind kind : {CcdKind::vertex_face, CcdKind::edge_edge}) {
            std::vector<ExactQuery> queries;
            for (int i = 0; i < count; ++i) {
                queries.push_back(straight ? straight_query(draw, kind) : bent_query(draw, kind));
            }
            ask(queries, kind, straight, result);
        }
        MESSAGE(std::string(straight ? "sides as they are" : "corners on ways of their own")
                << "; sweep: " << result.sweep.told() << "; first contact: " << result.first_contact.told()
                << "; primitives: " << result.primitives.told() << "; " << result.first_contacts << " first contacts, "
                << result.late << " late, " << result.early << " early (grazing)");
        CHECK(result.primitives.meeting > static_cast<std::size_t>(count / 2));
        CHECK(result.sweep.missed == 0);
        CHECK(result.first_contact.missed == 0);
        CHECK(result.primitives.missed == 0);
    }
}

} // namespace evenclose
