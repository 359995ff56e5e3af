// viewer/ui/new_press_sheet.hpp: the few questions from which a new press is made.
#pragma once

#include "viewer/app/new_press.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <array>
#include <string>
#include <variant>

namespace evenclose {

class NewPressSheet {
public:
    void draw(const Desk& desk, const Rect& window, bool keys_waiting);
    [[nodiscard]] bool takes_keys() const { return field_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return field_.takes_up(); }
    void closed();

private:
    static constexpr std::size_t kQuestions = 7;

    void begin(const Desk& desk);
    void type_at(std::size_t question);
    void make(const Desk& desk);
    struct Fault {
        std::size_t question = 0;
        std::string words;
    };
    [[nodiscard]] std::variant<NewPressAnswers, Fault> answers(UnitSystem units) const;

    bool fresh_ = true;
    std::array<std::string, kQuestions> typed_;
    std::size_t at_ = 0; // the question that is typed at
    TextField field_;
    NewPressAnswers::Jacks jacks_ = NewPressAnswers::Jacks::screw;
    int count_ = 2;
    std::string fault_;
};

} // namespace evenclose
