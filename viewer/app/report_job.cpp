#include "viewer/app/report_job.hpp"

#include "viewer/report/write_report.hpp"

#include <fmt/format.h>

#include <string>

namespace evenclose {

BackgroundJobs::Job report_job(const StartReport& order) {
    return {[order](Progress&, const BackgroundJobs::HandOver& hand_over) {
                const WrittenReport written = write_report(*order.setup, *order.assembly, *order.results, order.notes,
                                                           {order.file, order.units, true, Paper::a4});
                hand_over(ReportWritten{fmt::format("The report stands in {} ({} pictures, {} kB)", order.file,
                                                    written.pictures, written.bytes / 1000),
                                        false});
            },
            [](const std::string& why) {
                return ReportWritten{fmt::format("The report was not written: {}", why), true};
            }};
}

} // namespace evenclose
