#include "viewer/report/write_report.hpp"

#include "checks/report/html_report.hpp"
#include "checks/report/report_page.hpp"
#include "scene/documents/atomic_write.hpp"
#include "viewer/cli/today.hpp"
#include "viewer/report/report_pictures.hpp"
#include "viewer/version.hpp"

#include <fmt/format.h>

#include <optional>
#include <stdexcept>

namespace evenclose {

bool ends_as_report(const std::filesystem::path& file) {
    const std::filesystem::path ending = file.extension();
    return ending == ".html" || ending == ".htm" || ending == ".pdf";
}

WrittenReport write_report(const Setup& setup, const Assembly& assembly, const CheckResults& results,
                           const std::vector<std::string>& notes, const ReportWanted& wanted) {
    ReportPage page = report_page(setup, assembly, results, notes, wanted.units);
    page.made_on = today();
    page.made_by = fmt::format("evenclose {}", version());
    if (wanted.pictures) {
        page.pictures = report_pictures(setup, assembly, results, wanted.units);
    }
    const std::string bytes = wanted.file.extension() == ".pdf" ? pdf_report(page, wanted.paper) : html_report(page);
    if (const std::optional<std::string> fault = write_file_atomically(wanted.file, bytes)) {
        throw std::runtime_error(*fault);
    }
    return {page.pictures.size(), bytes.size()};
}

} // namespace evenclose
