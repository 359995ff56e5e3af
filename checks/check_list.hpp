// checks/check_list.hpp: every check by its id, and all of them run over one set-up.
//
// To add a check: a file (or folder) of its own with a pure function, a line in check_list.cpp, a test, a paragraph in
// the README.
#pragma once

#include "checks/clearance/sweep.hpp"
#include "checks/finding.hpp"
#include "checks/level/level_curves.hpp"
#include "checks/progress.hpp"
#include "checks/stroke/drives.hpp"
#include "scene/motion/assembly.hpp"
#include "scene/setup/setup.hpp"

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

namespace evenclose {

/// The certified clearance of one pair over the stroke: the rail's bands and the profile are drawn from it.
struct PairProfile {
    std::size_t first = 0, second = 0; // into Assembly::bodies
    Sweep sweep;
    SharedClearanceMesh first_mesh,
        second_mesh; // held: a check made anew of the same meshes need not prepare them again
};

struct CavityMeasure; // checks/cavity/cavity.hpp
struct BendMeasure;   // checks/bend/bend.hpp
struct FrameMeasure;  // checks/frame/frame_check.hpp
struct TimeMeasure;   // checks/plan/time_check.hpp

struct CheckRequest {
    std::vector<std::string> only; // ids; empty: all
    int jobs = 0;                  // threads at most; 0: as many as the machine has. The answer is the same.
    bool until_no_go = false;      // no check after the first that finds a no-go
};

struct CheckResults {
    std::vector<Finding> findings;               // worst first
    std::vector<PairProfile> profiles;           // of the `travel` check, in the order of Assembly::moving_pairs()
    std::shared_ptr<const CavityMeasure> cavity; // of the `cavity` check: its map; null if it was not asked
    std::shared_ptr<const BendMeasure> bend;     // of the `bend` check: how the faces are curved; null if not asked
    // The same of each opening, from the bottom up; those that are alike share one, placed as in the first of them.
    std::vector<std::shared_ptr<const CavityMeasure>> cavities;
    std::vector<std::shared_ptr<const BendMeasure>> bends;
    std::vector<LevelCurve> level;             // of the `level` check
    std::vector<JackRun> jacks;                // of the `stroke` check
    std::shared_ptr<const FrameMeasure> frame; // of the `frame` check: the bent frame; null if nothing asked for it
    std::shared_ptr<const TimeMeasure> time;   // of the `time` check: its week; null if it was not asked
    bool cancelled = false;                    // then what is here is only a part
};

struct CheckEntry {
    const char* id;
    const char* asks; // one line, for help and reports
};
[[nodiscard]] const std::vector<CheckEntry>& check_entries();

/// Needs: a set-up with everything loaded, its assembly, ids that stand in check_entries().
/// Threads: pure, any; `progress` may be cancelled from another.
[[nodiscard]] CheckResults run_checks(const Setup& setup, const Assembly& assembly, const CheckRequest& request,
                                      Progress& progress);

} // namespace evenclose
