// viewer/ui/fields_panel.hpp: every value of a document as a field, in the bench's place: typed over, searched, folded, with one
// more added or one taken away, each with the schema's words.
#pragma once

#include "viewer/app/document_rows.hpp"
#include "viewer/app/open_documents.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

class FieldsPanel {
public:
    /// Needs: desk.app.fields.file is open.
    void draw(const Desk& desk, const Rect& rect, bool keys_waiting);

    [[nodiscard]] bool takes_keys() const { return field_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return field_.takes_up(); }
    /// The bench is there again.
    void closed();

private:
    struct Shown {
        std::size_t row, part;
    };

    void take_up_document(const Desk& desk);
    void heads(const Desk& desk, const Rect& rect);
    void search(const Desk& desk, const Rect& rect, bool keys_waiting);
    void list(const Desk& desk, const Rect& rect, bool keys_waiting);
    float row(const Desk& desk, const Pen& pen, std::size_t index, float x, float y, float width, bool keys_waiting);
    void part_field(const Desk& desk, const Pen& pen, std::size_t index, std::size_t part, const Rect& rect,
                    bool keys_waiting);
    float fault_words(const Desk& desk, const Pen& pen, const DocumentRow& row, float x, float y, float width) const;
    void end_typing(const Desk& desk, TextField::End end, std::size_t row, std::size_t part);
    /// What is sought, in the other documents: a line each to go there. The height taken.
    float elsewhere(const Desk& desk, const Pen& pen, const Rect& place);
    [[nodiscard]] std::vector<std::size_t> visible(const App& app) const;
    [[nodiscard]] std::optional<std::string> beside(const App& app, const std::string& place, int by) const;

    SharedText text_;
    std::filesystem::path file_;
    DocumentTexts texts_; // that open_ was made of
    std::vector<OpenDocument> open_;
    std::vector<DocumentRow> rows_;
    TextField field_;
    std::optional<std::string> typed_into_; // the place that field_ stands at
    struct Elsewhere {
        std::filesystem::path file;
        std::string words;
    };
    std::vector<Elsewhere> elsewhere_;
    std::string elsewhere_sought_;
    std::filesystem::path elsewhere_from_;
    DocumentTexts elsewhere_texts_; // that they were counted in
    bool drawn_ = false;            // the field, in this frame
};

} // namespace evenclose
