// viewer/report/pdf_report.hpp: a report as pages for paper: A4 or Letter, numbered, text that can be searched.
//
// Cairo makes the PDF, Pango sets and wraps the text, librsvg draws the diagrams.
#pragma once

#include "checks/report/report_page.hpp"

#include <string>

namespace evenclose {

enum class Paper { a4, letter }; // ISO 216; ANSI/ASME Y14.1 A

/// Gives: the bytes of a PDF file.   Faults: std::runtime_error saying what could not be drawn.
/// Threads: any, one at a time (font maps of Pango are shared).
[[nodiscard]] std::string pdf_report(const ReportPage& page, Paper paper);

} // namespace evenclose
