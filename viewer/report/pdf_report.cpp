#include "viewer/report/pdf_report.hpp"

#include "checks/report/loud.hpp"
#include "viewer/report/pdf_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace evenclose {
namespace {

constexpr Vec2 kA4{595.276, 841.89}, kLetter{612, 792};
constexpr Ink kFoul{0.647, 0.18, 0.047}, kTight{0.494, 0.322, 0};

Ink ink_of(Verdict verdict) {
    switch (verdict) {
    case Verdict::go:
        return kInk;
    case Verdict::not_checked:
        return kGraphite;
    case Verdict::marginal:
        return kTight;
    case Verdict::no_go:
        return kFoul;
    }
    return kInk;
}

class Writer {
public:
    explicit Writer(PdfPages& pages) : pages_{pages} {}

    void all(const ReportPage& page) {
        head(page);
        cautions(page);
        findings(page);
        pictures(page);
        curves(page);
        inputs(page);
    }

private:
    void heading(const std::string& words, double room_below = 60) {
        pages_.keep_together(34 + room_below);
        pages_.down(14);
        pages_.down(pages_.set(words, {12.5, true}, pages_.left(), pages_.y(), pages_.width()) + 2);
        pages_.rule(pages_.left(), pages_.y(), pages_.left() + pages_.width(), pages_.y(), kInk, 1);
        pages_.down(7);
    }

    void paragraph(const std::string& words, const Type& type, double indent = 0) {
        const double height = pages_.height_of(words, type, pages_.width() - indent);
        pages_.keep_together(height);
        pages_.set(words, type, pages_.left() + indent, pages_.y(), pages_.width() - indent);
        pages_.down(height + 2.5);
    }

    void head(const ReportPage& page) {
        paragraph(page.title, {17, true});
        paragraph(page.subtitle, {9.5, false, kGraphite});
        pages_.down(6);
        const double x = pages_.left();
        const Ink ink = ink_of(page.verdict);
        pages_.frame(x, pages_.y(), pages_.width(), 34, ink, 1.4);
        pages_.fill(x, pages_.y() - 0.7, 8, 35.4, ink);
        pages_.set(loud(page.verdict), {16, true, ink}, x + 18, pages_.y() + 6, 150);
        pages_.set(page.tally, {9.5}, x + 170, pages_.y() + 10.5, pages_.width() - 180);
        pages_.down(42);
        if (!page.complete) {
            paragraph("Stopped before it was done: what is missing here was not checked.", {9.5, true});
        }
    }

    void cautions(const ReportPage& page) {
        std::string words = "Before you close it";
        paragraph(words, {9.5, true});
        for (const std::string& caution : page.cautions) {
            paragraph("•  " + caution, {9}, 6);
        }
        paragraph(page.disclaimer, {9, false, kGraphite});
    }

    /// A word and what belongs to it beside it; gives nothing if there is nothing.
    using Row = std::pair<std::string, std::string>;

    double height_of(const std::vector<Row>& rows, double column, double width, const Type& type) {
        double height = 0;
        for (const Row& row : rows) {
            height += std::max(pages_.height_of(row.first, type, column - 6),
                               pages_.height_of(row.second, type, width - column)) +
                      1.5;
        }
        return height;
    }

    void finding(const ReportFinding& it) {
        std::vector<Row> rows;
        for (const auto& [what, words] : {Row{"numbers", it.numbers}, Row{"where", it.where}, Row{"why", it.why}}) {
            if (!words.empty()) {
                rows.emplace_back(what, words);
            }
        }
        const double inner = pages_.width() - 22;
        const Type type{9};
        const Ink ink = ink_of(it.verdict);
        const double title = pages_.height_of(it.title, {10, true}, inner);
        const double remedy = it.remedy.empty() ? 0 : pages_.height_of(it.remedy, {9, true}, inner - 52) + 1.5;
        const double height = 5 + 13 + title + 2 + height_of(rows, 52, inner, type) + remedy + 4;
        pages_.keep_together(height + 6);
        const double x = pages_.left() + 14;
        double y = pages_.y() + 5;
        pages_.set(loud(it.verdict), {8.5, true, ink}, x, y, 90);
        pages_.set(it.check, {8.5, false, kGraphite}, x + 92, y, 200);
        y += 13;
        y += pages_.set(it.title, {10, true}, x, y, inner) + 2;
        for (const auto& [what, words] : rows) {
            pages_.set(what, {9, false, kGraphite}, x, y, 50);
            y += pages_.set(words, type, x + 52, y, inner - 52) + 1.5;
        }
        if (!it.remedy.empty()) {
            pages_.set("do", {9, false, kGraphite}, x, y, 50);
            pages_.set(it.remedy, {9, true}, x + 52, y, inner - 52);
        }
        pages_.frame(pages_.left(), pages_.y(), pages_.width(), height, kPencil, 0.7);
        pages_.fill(pages_.left(), pages_.y(), 5, height, ink);
        pages_.down(height + 6);
    }

    void table(const std::vector<Row>& rows, double column, double size = 8.8) {
        const Type type{size};
        for (const Row& row : rows) {
            const double height = std::max(pages_.height_of(row.first, type, column - 8),
                                           pages_.height_of(row.second, type, pages_.width() - column - 4)) +
                                  4;
            pages_.keep_together(height);
            pages_.set(row.first, {size, false, kGraphite}, pages_.left(), pages_.y() + 1.5, column - 8);
            pages_.set(row.second, type, pages_.left() + column, pages_.y() + 1.5, pages_.width() - column - 4);
            pages_.down(height);
            pages_.rule(pages_.left(), pages_.y(), pages_.left() + pages_.width(), pages_.y(), kPencil, 0.4);
        }
    }

    void findings(const ReportPage& page) {
        std::vector<Row> fine;
        bool headed = false;
        for (const ReportFinding& it : page.findings) {
            if (it.verdict == Verdict::go) {
                fine.emplace_back(it.check, it.title);
                continue;
            }
            if (!headed) {
                heading("What to look at");
                headed = true;
            }
            finding(it);
        }
        if (!fine.empty()) {
            heading("What is fine");
            table(fine, 70);
        }
    }

    void pictures(const ReportPage& page) {
        if (page.pictures.empty()) {
            return;
        }
        constexpr double kGap = 12;
        const double width = (pages_.width() - kGap) / 2;
        const auto height_of = [&](const ReportPicture& picture) {
            return width * picture.height / picture.width + 4 + pages_.height_of(picture.title, {9, true}, width) +
                   pages_.height_of(picture.caption, {8.2}, width) + 10;
        };
        heading("Pictures", height_of(page.pictures.front()));
        for (std::size_t i = 0; i < page.pictures.size(); i += 2) {
            const std::size_t end = std::min(i + 2, page.pictures.size());
            double height = 0;
            for (std::size_t k = i; k < end; ++k) {
                height = std::max(height, height_of(page.pictures[k]));
            }
            pages_.keep_together(height);
            for (std::size_t k = i; k < end; ++k) {
                const ReportPicture& picture = page.pictures[k];
                const double x = pages_.left() + static_cast<double>(k - i) * (width + kGap);
                double y = pages_.y();
                const double high = pages_.picture(picture.png, x, y, width);
                pages_.frame(x, y, width, high, kPencil, 0.6);
                y += high + 4;
                y += pages_.set(picture.title, {9, true}, x, y, width);
                pages_.set(picture.caption, {8.2}, x, y, width);
            }
            pages_.down(height);
        }
    }

    void curves(const ReportPage& page) {
        bool headed = false;
        for (const Curve& curve : page.curves) {
            const Drawing drawing = drawn(curve);
            const double width = std::min(pages_.width(), 460.0);
            const double height = width * drawing.height / drawing.width;
            const double words = pages_.height_of(curve.title, {10, true}, pages_.width()) +
                                 pages_.height_of(curve.reading, {8.8}, pages_.width()) + 6;
            if (!headed) {
                heading("Over the travel", height + words);
                headed = true;
            }
            pages_.keep_together(height + words);
            pages_.down(pages_.set(curve.title, {10, true}, pages_.left(), pages_.y(), pages_.width()));
            pages_.down(pages_.set(curve.reading, {8.8}, pages_.left(), pages_.y(), pages_.width()) + 4);
            pages_.down(pages_.drawing(drawing.svg, drawing.width, drawing.height, pages_.left(), pages_.y(), width) +
                        10);
        }
    }

    void inputs(const ReportPage& page) {
        heading("What it stands on");
        for (const InputGroup& group : page.inputs) {
            pages_.keep_together(40);
            pages_.down(4);
            paragraph(group.title, {10, true});
            std::vector<Row> rows;
            std::transform(group.inputs.begin(), group.inputs.end(), std::back_inserter(rows), [](const StatedInput& input) {
                return Row{input.name,
                           input.source.empty() ? input.value : fmt::format("{} ({})", input.value, input.source)};
            });
            table(rows, 150);
        }
        if (!page.notes.empty()) {
            pages_.down(4);
            paragraph("Taken as", {10, true});
            for (const std::string& note : page.notes) {
                paragraph("•  " + note, {8.8}, 6);
            }
        }
        if (!page.files.empty()) {
            pages_.keep_together(40);
            pages_.down(4);
            paragraph("Files it was read from, and their SHA-256", {10, true});
            std::vector<Row> rows;
            std::transform(page.files.begin(), page.files.end(), std::back_inserter(rows), [](const InputFile& file) {
                return Row{fmt::format("{} ({})", file.file.filename().string(), file.what),
                           file.sha256.empty() ? std::string("cannot be read any more") : file.sha256};
            });
            table(rows, 200, 7.2);
        }
        pages_.down(8);
        paragraph(fmt::format("Made on {} by {}.", page.made_on, page.made_by), {8.5, false, kGraphite});
    }

    PdfPages& pages_;
};

} // namespace

std::string pdf_report(const ReportPage& page, Paper paper) {
    const Vec2 size = paper == Paper::a4 ? kA4 : kLetter;
    // Twice: how many pages there are stands at the foot of the first one.
    int count = 0;
    std::string bytes;
    for (int round = 0; round < 2; ++round) {
        PdfPages pages{size, page.title, count};
        pages.set_properties(page.title, page.made_by, page.made_on);
        Writer{pages}.all(page);
        count = pages.page();
        bytes = pages.finish();
    }
    return bytes;
}

} // namespace evenclose
