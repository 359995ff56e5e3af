// checks/stroke/drives.hpp: what each drive must bring over the travel, where it stalls, whether its jacks hold the load
// by themselves, and how long it takes to close.
//
// Two loads: the dead weight while nothing is pressed yet (the platen, by its stated mass or by size and
// material, and what rises with the heads; shared evenly; the mold is left out), and the
// jacks' rated load. Between jacks that turn together by link shafts the drives of the train share evenly. Friction is
// that of the threads as given; gears are taken without loss.
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct DrivePoint {
    Travel at;
    double out_mm = 0;                // of its first jack, from closed height
    double rate = 0;                  // rise of that jack's head a turn of its screw, mm; or for 1 cm3 pumped
    double at_rated = 0;              // torque at the motor, N mm, or pressure, MPa, under the rated load
    std::optional<double> at_weight;  // under the dead weight; none: the platen's mass is not known
    std::optional<double> can_lift_N; // a jack, at the drive's limit
};

struct DriveRun {
    std::string name;
    std::vector<std::string> jacks; // that it drives, by shafts too
    bool pumped = false;            // pressure in place of torque
    double rated_load_N = 0;        // of its first jack
    std::optional<double> limit;    // N mm at the motor, or MPa
    std::vector<DrivePoint> points; // in order of travel, from open to closed (or where the stroke ends)
    bool hose = false;              // its force is true to about 10 % (scene/jacks/hose.hpp)
};

/// What one jack asks of whatever turns or fills it, over the travel; known without a drive as well.
struct JackPoint {
    Travel at;
    double out_mm = 0; // from closed height
    double rate = 0;   // rise of its head a turn of its screw, mm; or for 1 cm3 pumped
    double effort = 0; // torque at its screw, N mm, or pressure, MPa, that just raises its rated load
};
struct JackRun {
    std::string jack;
    const char* kind = ""; // as name_of(JackKind)
    bool pumped = false;
    double rated_load_N = 0;
    Holding holding = Holding::thread_holds;
    std::vector<JackPoint> points; // in order of travel, from open to closed (or where the stroke ends)
};

struct JackHolding {
    std::string jack;
    Holding holding = Holding::thread_holds;
    bool valve = false; // cylinder or hose: only a valve holds it
};

struct DrivesMeasure {
    std::vector<DriveRun> drives;     // those of which the effort can be told
    std::vector<JackRun> jacks;       // likewise
    bool without_drives = false;      // the document has none: what turns the screws is not known
    std::vector<JackHolding> holding; // likewise
    std::vector<std::string> silent;  // jacks whose thread friction is not given
    std::optional<double> seconds_to_close;
};

/// Needs: a set-up with everything loaded, and its assembly.
[[nodiscard]] DrivesMeasure measure_drives(const Setup& setup, const Assembly& assembly);

/// For each drive: go where its limit gives the rated load at closed, marginal where it gives less, no-go where it does
/// not even lift the dead weight; not checked without a limit. Holding: go where the threads hold, marginal where only a
/// collar or nothing does. Time to close is told and not judged; without drives so is what a screw asks for, or a pump.
[[nodiscard]] std::vector<Finding> judge(const DrivesMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
