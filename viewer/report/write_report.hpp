// viewer/report/write_report.hpp: a report made and written, for the command line and the window alike.
#pragma once

#include "checks/check_list.hpp"
#include "scene/units/units.hpp"
#include "viewer/report/pdf_report.hpp"

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

namespace evenclose {

struct ReportWanted {
    std::filesystem::path file; // its ending says how: .html, .htm or .pdf
    UnitSystem units = UnitSystem::metric;
    bool pictures = true;
    Paper paper = Paper::a4;
};

[[nodiscard]] bool ends_as_report(const std::filesystem::path& file);

struct WrittenReport {
    std::size_t pictures = 0, bytes = 0;
};

/// Comes out whole or not at all; an older file of that name is replaced.
/// Needs: the set-up's own assembly and results; a name that ends_as_report.   Faults: std::runtime_error with the reason.
WrittenReport write_report(const Setup& setup, const Assembly& assembly, const CheckResults& results,
                           const std::vector<std::string>& notes, const ReportWanted& wanted);

} // namespace evenclose
