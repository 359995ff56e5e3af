#include "viewer/app/report_job.hpp"

#include "viewer/report/write_report.hpp"

#include <fmt/format.h>

#include <exception>

namespace evenclose {

BackgroundJobs::Job report_job(const StartReport& order) {
    return [order](Progress&, const BackgroundJobs::HandOver& hand_over) {
        try {
            const WrittenReport written = write_report(*order.setup, *order.assembly, *order.results, order.notes,
                                                       {order.file, order.units, true, Paper::a4});
            hand_over(ReportWritten{fmt::format("The report stands in {} ({} pictures, {} kB)", order.file,
                                                written.pictures, written.bytes / 1000),
                                    false});
        } catch (const std::exception& fault) {
            hand_over(ReportWritten{fmt::format("The report was not written: {}", fault.what()), true});
        }
    };
}

} // namespace evenclose
