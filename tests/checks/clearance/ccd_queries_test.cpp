// Continuous-collision sample queries: the reader, queries that one answers by heart, and files from outside.
//
// EVENCLOSE_CCD_QUERIES=folder runs all files below it (the public sample queries of B. Wang et al., ACM TOG 40(5):188,
// 2021, come in such folders). Random queries with exact rational truth stand in tests/referee.
#include "tests/checks/clearance/ccd_queries.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

namespace evenclose::test {
namespace {

// A metre of theirs in our millimetres, as a power of two, so that nothing is rounded on the way in.
constexpr double kScale = 1024;

TEST_CASE("queries of continuous collision by heart") {
    struct Row {
        const char* what;
        CcdQuery query;
        CcdAnswer by_sweep, by_primitives;
        double first_share;
    };
    const auto vertex_face = [](const Vec3& from, const Vec3& to, bool meets) {
        const Vec3 a{0, 0, 1};
        const Vec3 b{3, 0, 1};
        const Vec3 c{0, 3, 1};
        return CcdQuery{CcdKind::vertex_face, {from, a, b, c}, {to, a, b, c}, meets};
    };
    const auto edge_edge = [](const Vec3& shift, const Vec3& by, bool meets) {
        const Vec3 a0{-1, 0, 0};
        const Vec3 a1{1, 0, 0};
        const Vec3 b0 = shift + Vec3{0, -1, 1};
        const Vec3 b1 = shift + Vec3{0, 1, 1};
        return CcdQuery{CcdKind::edge_edge, {a0, a1, b0, b1}, {a0, a1, b0 + by, b1 + by}, meets};
    };
    CcdQuery bent = vertex_face({1, 1, 0}, {1, 1, 0}, true); // the face folds down to the vertex, one corner stays
    bent.end[2].z = bent.end[3].z = -1;
    const CcdAnswer yes = CcdAnswer::meets;
    const CcdAnswer no = CcdAnswer::clear;
    const Row rows[] = {
        {"through the face", vertex_face({1, 1, 0}, {1, 1, 4}, true), yes, yes, 0.25},
        {"from above", vertex_face({1, 1, 5}, {1, 1, 0}, true), yes, yes, 0.8},
        {"aslant", vertex_face({0, 0, 0}, {2, 2, 2}, true), yes, yes, 0.5},
        {"stops on it", vertex_face({1, 1, 0}, {1, 1, 1}, true), yes, yes, 1},
        {"stops a 1024th short of it", vertex_face({1, 1, 0}, {1, 1, 1 - 0x1p-10}, false), no, no, 0},
        {"grazes an edge", vertex_face({1, 0, 0}, {1, 0, 2}, true), yes, yes, 0.5},
        {"passes the edge by a 1024th", vertex_face({1, -0x1p-10, 0}, {1, -0x1p-10, 2}, false), no, no, 0},
        {"grazes a corner", vertex_face({3, 0, 0}, {3, 0, 2}, true), yes, yes, 0.5},
        {"slides along in its plane", vertex_face({-1, 1, 1}, {4, 1, 1}, true), yes, yes, 0.2},
        {"stands on it", vertex_face({1, 1, 1}, {1, 1, 1}, true), yes, yes, 0},
        {"stands over it", vertex_face({1, 1, 2}, {1, 1, 2}, false), no, no, 0},
        {"turns away before it", vertex_face({1, 1, 0}, {1, 1, -3}, false), no, no, 0},
        {"a face that bends", bent, CcdAnswer::not_asked, yes, 0},
        {"edges cross", edge_edge({0, 0, 0}, {0, 0, -2}, true), yes, yes, 0.5},
        {"edges meet at ends", edge_edge({1, 1, 0}, {0, 0, -2}, true), yes, yes, 0.5},
        {"edges pass", edge_edge({1.5, 0, 0}, {0, 0, -2}, false), no, no, 0},
        {"edge stops short", edge_edge({0, 0, 0}, {0, 0, -0.875}, false), no, no, 0},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        const CcdSweepAnswer told = ask_sweep(row.query, kScale);
        CHECK(told.answer == row.by_sweep);
        CHECK(ask_primitives(row.query, kScale) == row.by_primitives);
        const CcdSweepAnswer first = ask_first_contact(row.query, kScale);
        CHECK(first.answer == row.by_sweep);
        if (row.by_sweep == yes) {
            CHECK(std::abs(told.first_share - row.first_share) * told.way_mm <= 0.01);
            CHECK(std::abs(first.first_share - row.first_share) * first.way_mm <= 0.01);
        }
    }
}

TEST_CASE("a file of sample queries is read, or refused by row") {
    const auto read = [](const std::string& text) {
        std::istringstream in(text);
        return read_ccd_queries(in, CcdKind::edge_edge, "pairs.csv");
    };
    const std::string row = "-3,4,0,1,6004799503160661,36028797018963968,1\n";
    std::string query;
    for (int i = 0; i < 8; ++i) {
        query += row;
    }
    const std::vector<CcdQuery> two = read(query + query);
    REQUIRE(two.size() == 2);
    CHECK(two[1].kind == CcdKind::edge_edge);
    CHECK(two[1].meets);
    CHECK(two[1].end[3] == Vec3{-0.75, 0, 6004799503160661 / 36028797018963968.0});
    CHECK(read("").empty());
    const auto spoiled = [&](const std::string& last) { return query.substr(0, 7 * row.size()) + last + "\n"; };
    CHECK_THROWS_WITH((void)read(query + row), "pairs.csv: 9 rows are no whole number of queries of 8");
    CHECK_THROWS_WITH((void)read(spoiled("1,2,3,4,5,6")), "pairs.csv: row 8: 6 columns; a row has 7");
    CHECK_THROWS_WITH((void)read(spoiled("1,2,3,4,5,0,1")), "pairs.csv: row 8: a denominator of 0");
    CHECK_THROWS_WITH((void)read(spoiled("1,2,3,4,0.5,1,1")), "pairs.csv: row 8: \"0.5\" is no integer");
    CHECK_THROWS_WITH((void)read(spoiled("1,2,3,4,,1,1")), "pairs.csv: row 8: \"\" is no integer");
    CHECK_THROWS_WITH((void)read(spoiled("1,2,3,4,5,6,2")), "pairs.csv: row 8: \"2\" for the truth, which is 0 or 1");
    CHECK_THROWS_WITH((void)read(spoiled("1,2,3,4,5,6,0")),
                      "pairs.csv: row 8: another truth than the row before, in one query");
    CHECK_THROWS_WITH((void)read(spoiled("1" + std::string(400, '0') + ",1,3,4,5,6,1")),
                      "pairs.csv: row 8: a coordinate that no double holds");
}

TEST_CASE("sample queries from the folder EVENCLOSE_CCD_QUERIES: none missed") {
    const char* folder = std::getenv("EVENCLOSE_CCD_QUERIES"); // NOLINT(concurrency-mt-unsafe)
    if (folder == nullptr) {
        return;
    }
    CcdTally by_sweep;
    CcdTally by_first_contact;
    CcdTally by_primitives;
    const std::vector<CcdFile> files = read_ccd_folder(folder);
    REQUIRE_MESSAGE(!files.empty(), "no *.csv below " << folder);
    for (const CcdFile& file : files) {
        for (std::size_t i = 0; i < file.queries.size(); ++i) {
            const CcdQuery& query = file.queries[i];
            const CcdAnswer sweep_says = ask_sweep(query, kScale).answer;
            const CcdAnswer primitives_say = ask_primitives(query, kScale);
            const CcdAnswer first_contact_says = ask_first_contact(query, kScale).answer;
            by_sweep.count(query, sweep_says);
            by_first_contact.count(query, first_contact_says);
            by_primitives.count(query, primitives_say);
            if (query.meets) {
                CAPTURE(file.name);
                CAPTURE(i);
                CHECK(sweep_says != CcdAnswer::clear);
                CHECK(first_contact_says != CcdAnswer::clear);
                CHECK(primitives_say != CcdAnswer::clear);
            }
        }
    }
    MESSAGE("sweep: " << by_sweep.told());
    MESSAGE("first contact: " << by_first_contact.told());
    MESSAGE("primitives: " << by_primitives.told());
}

} // namespace
} // namespace evenclose::test
