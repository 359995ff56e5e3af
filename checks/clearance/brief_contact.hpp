// checks/clearance/brief_contact.hpp: contact that lasts no longer than an instant of the travel.
//
// Two sheets without thickness, two edges that cross, a corner that grazes a face: they meet at one travel only. The
// search leaves a cell there, too narrow to be cut again, whose lower bound is 0 and whose upper is not: not certainly
// clear and not certainly in contact. In such cells the nearest pair is followed to the travel at which it is nearest (its
// distance is convex along a translation), and the pair nearest there again, until one touches; the cell is then cut at
// that very travel. Nothing certified is changed by it.
#pragma once

#include "checks/clearance/pair_search.hpp"
#include "checks/clearance/swept_piece.hpp"
#include "checks/progress.hpp"

namespace evenclose {

void pinpoint_brief_contacts(const SearchedPair& pair, const Goal& goal, SweptPiece& piece, const Progress& progress);

} // namespace evenclose
