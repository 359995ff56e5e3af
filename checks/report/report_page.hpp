// checks/report/report_page.hpp: all that a report says, as plain data in the order of reading; how it looks is decided by
// html_report.hpp and the viewer's PDF.
#pragma once

#include "checks/check_list.hpp"
#include "checks/report/curve.hpp"
#include "checks/report/curves_of.hpp"
#include "checks/report/inputs_of.hpp"
#include "scene/setup/input_files.hpp"
#include "scene/units/units.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct ReportPicture {
    std::string title, caption;
    std::string png; // the bytes of a PNG file
    int width = 0, height = 0;
};

/// A finding with everything in words and in one unit system.
struct ReportFinding {
    std::string check;
    Verdict verdict = Verdict::not_checked;
    std::string title, numbers, where, why, remedy; // numbers: "measured 3.2 mm, limit 5 mm, margin -1.8 mm"
};

struct ReportPage {
    std::string title;    // the set-up's name
    std::string subtitle; // what is in what
    Verdict verdict = Verdict::not_checked;
    std::string tally;
    bool complete = true;
    std::string made_on; // "2026-11-30"
    std::string made_by; // "evenclose 0.2.0"
    std::vector<std::string> cautions;
    std::string disclaimer;
    std::vector<ReportPicture> pictures;
    std::vector<Curve> curves;
    std::vector<ReportFinding> findings; // worst first
    std::vector<InputGroup> inputs;
    std::vector<std::string> notes;
    std::vector<InputFile> files;
};

/// Everything but the pictures, which are handed in, and when and by what it was made.
/// Needs: the set-up's own assembly and results.   Threads: any.
[[nodiscard]] ReportPage report_page(const Setup& setup, const Assembly& assembly, const CheckResults& results,
                                     const std::vector<std::string>& notes, UnitSystem units);

} // namespace evenclose
