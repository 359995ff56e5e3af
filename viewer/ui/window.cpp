#include "viewer/ui/window.hpp"

#include "viewer/app/apply.hpp"
#include "viewer/app/dropped_file.hpp"
#include "viewer/app/load_and_check.hpp"
#include "viewer/app/mold_jobs.hpp"
#include "viewer/app/plan_job.hpp"
#include "viewer/app/report_job.hpp"
#include "viewer/app/work_keeper.hpp"
#include "viewer/ui/asked_files.hpp"
#include "viewer/ui/commands.hpp"
#include "viewer/ui/fields_panel.hpp"
#include "viewer/ui/film_job.hpp"
#include "viewer/ui/glfw_window.hpp"
#include "viewer/ui/gui.hpp"
#include "viewer/ui/keys.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/picture_panel.hpp"
#include "viewer/ui/picture_theme.hpp"
#include "viewer/ui/sheet_holder.hpp"
#include "viewer/ui/state_file.hpp"
#include "viewer/ui/text_keys.hpp"
#include "viewer/ui/words.hpp"

#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <epoxy/gl.h>
#include <fmt/format.h>

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <malloc.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <exception>
#include <memory>
#include <ostream>
#include <stdexcept>

namespace evenclose {
namespace {

using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

double seconds_since(Clock::time_point then) { return std::chrono::duration<double>(Clock::now() - then).count(); }

// While something moves by itself: no faster than this where the screen does not set the pace.
constexpr double kFrame_s = 1.0 / 60.0;
// While a job runs its progress is looked at this often.
constexpr double kProgress_s = 0.1;
// Read twice without haste (common practice, no source).
constexpr double kNoticeLasts_s = 20.0;
// A text cursor blinks; nothing else does.
constexpr double kBlink_s = 0.25;
// Longer than this a frame's worth of movement does not go, however long the frame took to draw.
constexpr double kLongestStep_s = 0.5;
// Dear ImGui settles hovering and sizes within this many frames of an input.
constexpr int kSettlingFrames = 3;
// So long the window waits for a cancelled job when it is closed.
constexpr milliseconds kPatience{100};
// And so long for a report that is being written: a person asked for it.
constexpr milliseconds kReportPatience{20000};

/// A window is open for days and reads a mold anew whenever it is saved. What the meshes before took, the C library keeps, in
/// pieces that the next ones do not fit into; told to, it gives all of it back that is free.
void give_memory_back() {
#ifdef __GLIBC__
    ::malloc_trim(0);
#endif
}

// A driver that drops everything so often in a row does so for ever.
constexpr int kContextsLost = 5;
constexpr double kContextsLostWithin_s = 60.0;

class WindowLoop {
public:
    explicit WindowLoop(const WindowRequest& request)
        : window_(request), gui_(std::make_unique<Gui>(window_.handle())), picture_(std::make_unique<PicturePanel>()),
          jobs_(&GlfwWindow::wake), plan_job_(&GlfwWindow::wake), report_job_(&GlfwWindow::wake),
          film_jobs_(&GlfwWindow::wake), mold_looks_(&GlfwWindow::wake), mold_fits_(&GlfwWindow::wake),
          comparison_(&GlfwWindow::wake), dialog_job_(&GlfwWindow::wake) {
        take(EditIntent{keeper_.read_session()});
        if (!request.setup_file.empty()) {
            take(OpenSetup{request.setup_file});
        }
    }

    void run() {
        try {
            live();
        } catch (...) {
            keeper_.keep_at_once(app_.documents);
            throw;
        }
        keeper_.end();
        const bool planned = plan_job_.wind_up(kPatience);
        const bool reported = report_job_.wind_up(kReportPatience); // also while a plan does not hear
        bool ended = planned && reported;
        for (BackgroundJobs* jobs : {&film_jobs_, &mold_looks_, &mold_fits_, &comparison_, &dialog_job_, &jobs_}) {
            ended = jobs->wind_up(kPatience) && ended;
        }
        if (!ended) {
            // A reader deep in a file does not hear a cancel. It writes nothing, so ending under it harms nothing.
            std::_Exit(0);
        }
    }

private:
    /// Until the window was closed.
    void live() {
        Clock::time_point listened = Clock::now();
        while (!app_.quit) {
            if (window_.should_close()) {
                window_.stay_open();
                take(Quit{}); // unsaved work asks first
                draw_soon();
                if (app_.quit) {
                    break;
                }
            }
            note_gap(seconds_since(listened));
            const Input input = window_.wait(patience_s());
            listened = Clock::now();
            take_news();
            take_input(input);
            take_events();
            keep_work();
            drop_old_notice();
            watch_files();
            if (pending_ > 0 && !window_.minimised()) {
                elapse();
                frame();
                --pending_;
            } else {
                last_frame_.reset();
            }
            if (works()) {
                has_worked_ = true;
            } else if (has_worked_ && (pending_ == 0 || window_.minimised())) {
                // The press before is gone, and nobody waits for a picture.
                give_memory_back();
                has_worked_ = false;
            }
            if (!app_.quit) {
                state_file_.write_if_changed(app_, places_, counts());
            }
        }
    }

    /// Something that tells how far it is.
    [[nodiscard]] bool works() const {
        return jobs_.busy() || plan_job_.busy() || film_jobs_.busy() || shown_molds_work();
    }
    /// The sheet that is open tells how far its work is.
    [[nodiscard]] bool shown_molds_work() const {
        return (app_.sheet == Sheet::molds && app_.molds.fits_run) ||
               (app_.sheet == Sheet::compare && comparison_.busy());
    }

    [[nodiscard]] double patience_s() const {
        if (window_.minimised()) {
            return works() ? kProgress_s : 1.0;
        }
        if (pending_ > 0) {
            return last_frame_ ? std::max(kFrame_s - seconds_since(*last_frame_), 0.0) : 0.0;
        }
        double patience = std::min(works() ? kProgress_s : 5.0, keeper_.due_s(app_.documents));
        if (app_.typing()) {
            patience = std::min(patience, kBlink_s);
        }
        if (const auto due = picture_->due_s()) {
            patience = std::min(patience, *due);
        }
        return patience;
    }

    void note_gap(double seconds) {
        longest_gap_ms_ = std::max(longest_gap_ms_, seconds * 1e3);
        if (jobs_.busy()) {
            longest_gap_checking_ms_ = std::max(longest_gap_checking_ms_, seconds * 1e3);
        }
    }

    void take(const Intent& intent) {
        for (const Order& order : apply(app_, intent)) {
            if (const auto* job = std::get_if<StartJob>(&order)) {
                jobs_.start(check_job(*job));
            } else if (std::holds_alternative<StopJob>(order)) {
                jobs_.cancel();
            } else if (const auto* plan = std::get_if<StartPlan>(&order)) {
                plan_job_.start(plan_job(*plan));
            } else if (const auto* report = std::get_if<StartReport>(&order)) {
                report_job_.start(report_job(*report));
            } else if (std::holds_alternative<EndPlan>(order)) {
                plan_job_.cancel();
            } else if (const auto* write = std::get_if<WritePlan>(&order)) {
                take(written_way(*write));
                draw_soon();
            } else if (const auto* film = std::get_if<MakeFilm>(&order)) {
                film_jobs_.start(film_job(app_, film->wanted));
            } else if (std::holds_alternative<StopFilmJob>(order)) {
                film_jobs_.cancel();
            } else if (const auto* looks = std::get_if<StartMoldLooks>(&order)) {
                mold_looks_.start(mold_looks_job(*looks, palette_for(looks->wish.theme)));
            } else if (std::holds_alternative<EndMoldLooks>(order)) {
                mold_looks_.cancel();
            } else if (const auto* fits = std::get_if<StartMoldFits>(&order)) {
                mold_fits_.start(mold_fits_job(*fits));
            } else if (std::holds_alternative<EndMoldFits>(order)) {
                mold_fits_.cancel();
            } else if (const auto* comparison = std::get_if<StartComparison>(&order)) {
                comparison_.start(comparison_job(*comparison));
            } else if (std::holds_alternative<EndComparison>(order)) {
                comparison_.cancel();
            } else if (const auto* ask = std::get_if<AskDesktop>(&order)) {
                ask_desktop(*ask);
            } else if (const auto* chosen = std::get_if<TakeFile>(&order)) {
                for (const Intent& next : intents_of_answer(app_, chosen->question, chosen->file)) {
                    take(next);
                }
            } else if (const auto* clip = std::get_if<ToClipboard>(&order)) {
                glfwSetClipboardString(window_.handle(), clip->text.c_str());
            } else if (const auto answer = keeper_.carry_out(order)) {
                take(EditIntent{*answer});
                draw_soon();
            }
        }
    }

    void ask_desktop(const AskDesktop& order) {
        FileDialogAsked asked = dialog_for(app_, order.question);
        asked.parent = window_.portal_name();
        dialog_job_.start(
            {[asked, number = order.number](Progress& progress, const BackgroundJobs::HandOver& hand_over) {
                 FileDialogAnswer answer = ask_file_dialog(asked, [&] { return progress.cancelled(); });
                 hand_over(FileQuestionIntent{DialogAnswered{number, std::move(answer)}});
             },
             [number = order.number](const std::string& /*why*/) { // then our own sheet asks
                 return FileQuestionIntent{DialogAnswered{number, {}}};
             }});
    }

    /// What went well need not be read for ever; what did not stays until a person takes note of it.
    void drop_old_notice() {
        if (app_.notice != noticed_) {
            noticed_ = app_.notice;
            noticed_at_ = Clock::now();
        } else if (!noticed_.empty() && seconds_since(noticed_at_) > kNoticeLasts_s && !app_.notice_bad) {
            take(DropNotice{});
            draw_soon();
        }
    }

    void watch_files() {
        DocumentTexts known = app_.documents.saved;
        if (!app_.not_whole.empty()) { // what is on the disk is none of these
            for (auto& [file, text] : known) {
                text.reset();
            }
        }
        if (app_.files != watched_ || known != known_) {
            watched_ = app_.files;
            known_ = std::move(known);
            watch_.watch(watched_, known_);
            return;
        }
        if (auto changed = watch_.take(); !changed.empty()) {
            take(EditIntent{FilesChanged{std::move(changed)}});
            draw_soon();
        }
    }

    void keep_work() {
        for (const EditIntent& news : keeper_.look_after(app_)) {
            take(EditIntent{news});
            draw_soon();
        }
    }

    void draw_soon(int frames = kSettlingFrames) { pending_ = std::max(pending_, frames); }

    void take_news() {
        for (BackgroundJobs* jobs :
             {&jobs_, &plan_job_, &report_job_, &film_jobs_, &mold_looks_, &mold_fits_, &comparison_, &dialog_job_}) {
            for (const Intent& news : jobs->take()) {
                take(news);
                draw_soon();
            }
        }
        if (app_.sheet != Sheet::asking && dialog_job_.busy()) {
            dialog_job_.cancel(); // whoever left the sheet took the question back
        }
        const bool planning = app_.sheet == Sheet::plan && plan_job_.busy();
        if ((app_.busy() || planning || app_.closely.film || shown_molds_work()) &&
            seconds_since(progress_drawn_) >= kProgress_s) {
            draw_soon(1);
        }
        if (app_.typing() || picture_->due_s().value_or(1.0) <= 0.011) {
            draw_soon(1);
        }
        if (app_.moving()) {
            draw_soon();
        }
    }

    void take_input(const Input& input) {
        if (!input.any) {
            return;
        }
        draw_soon();
        for (const InputEvent& event : input.events) {
            order_.add(event);
        }
        if (!input.dropped.empty()) {
            take(ShowSheet{Sheet::none});
            for (const Intent& intent : intents_of_drop(app_, input.dropped.front())) {
                take(intent);
            }
        }
    }

    /// Whose turn it is, of keys and buttons.
    void take_events() {
        while (const auto event = order_.next(text_keys_.waiting() && (takes_keys() || takes_up()))) {
            if (const auto* move = std::get_if<ButtonMove>(&*event)) {
                window_.show(*move);
                if (move->down) {
                    pressed_at_ = move->at;
                }
            } else if (const auto* press = std::get_if<KeyPress>(&*event)) {
                type(*press);
            } else {
                type(std::get<char32_t>(*event));
            }
        }
        if (order_.waiting()) {
            draw_soon();
        }
    }

    /// A field is ready for what is typed; it is about to be.
    [[nodiscard]] bool takes_keys() const { return fields_.takes_keys() || sheets_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return fields_.takes_up() || sheets_.takes_up(app_.sheet); }

    void type(const Typed& typed) {
        const auto* press = std::get_if<KeyPress>(&typed);
        if (app_.typing() && !(press && press->again)) {
            text_keys_.add(typed);
        }
        const std::optional<Intent> intent =
            press ? intent_of_key(app_, press->key, press->mods) : intent_of_character(app_, std::get<char32_t>(typed));
        const Command* command = press ? command_of_key(press->key, press->mods) : nullptr;
        if (intent && command != nullptr && command->id == "copy" && !places_.number.empty()) {
            take(CopyText{places_.number, places_.number});
        } else if (intent) {
            take(*intent);
        }
    }

    void elapse() {
        if (last_frame_) {
            take(Elapse{std::min(seconds_since(*last_frame_), kLongestStep_s)});
        }
        last_frame_ = Clock::now();
    }

    void frame() {
        int width = 0;
        int height = 0;
        glfwGetFramebufferSize(window_.handle(), &width, &height);
        if (width < 1 || height < 1) {
            return;
        }
        const Rect whole{0, 0, static_cast<float>(width), static_cast<float>(height)};
        gui_->use(fitting_scale(whole.width, whole.height, window_.display_scale()), app_.theme());
        ImGui_ImplOpenGL3_NewFrame();
        ImGui_ImplGlfw_NewFrame();
        if (!app_.typing()) {
            text_keys_.clear();
        }
        text_keys_.show_next([this](int key) { return glfwGetKey(window_.handle(), key) == GLFW_PRESS; }, takes_keys());
        ImGui::NewFrame();
        places_.clear();
        std::vector<Intent> intents;
        const Desk desk{app_,
                        gui_->fonts(),
                        gui_->scale(),
                        jobs_.fraction(),
                        plan_job_.fraction(),
                        places_,
                        intents,
                        memory_,
                        pressed_at_,
                        film_jobs_.fraction(),
                        mold_fits_.fraction(),
                        comparison_.fraction()};
        panels(desk, whole);
        sheets_.close_others(app_.sheet);
        if (app_.sheet != Sheet::none) {
            begin_cover("sheet", whole, 0);
            sheets_.draw(desk, whole, text_keys_.waiting());
            ImGui::End();
        }
        // Where the hand did not drag between press and release; a drag with this button shifts the picture.
        if (!places_.number.empty() && ImGui::IsMouseReleased(ImGuiMouseButton_Right) &&
            ImGui::GetIO().MouseDragMaxDistanceSqr[ImGuiMouseButton_Right] < 9.0F * gui_->scale() * gui_->scale()) {
            std::erase_if(intents, [](const Intent& intent) { // the press was on the number, not on what lies under it
                const auto* closely = std::get_if<CloselyIntent>(&intent);
                return closely != nullptr && std::holds_alternative<OpenBodyMenu>(*closely);
            });
            intents.push_back(CopyText{places_.number, places_.number});
        }
        picture_->set_busy_hand(ImGui::IsAnyItemActive());
        ImGui::Render();
        glViewport(0, 0, width, height);
        const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(colour::board);
        glClearColor(ground.x, ground.y, ground.z, 1);
        glClear(GL_COLOR_BUFFER_BIT);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        if (state_file_.wanted() && gl_fault_.empty()) { // asking makes the driver wait
            if (const GLenum fault = glGetError(); fault != GL_NO_ERROR) {
                gl_fault_ = fmt::format("{:#x} in frame {}", fault, frames_);
            }
        }
        window_.show_frame();
        if (window_.context_lost()) {
            start_anew();
        }
        pressed_at_.reset();
        order_.frame_drawn();
        if (text_keys_.waiting() || takes_up()) {
            draw_soon(1);
        }
        const bool typing = app_.typing();
        ++frames_;
        progress_drawn_ = Clock::now();
        for (const Intent& intent : intents) {
            take(intent);
            if (!std::holds_alternative<SetPictureShape>(intent)) {
                draw_soon();
            }
        }
        if (typing && !app_.typing()) {
            for (const auto& typed : text_keys_.take_waiting()) { // was meant for what comes after the field
                type(typed);
            }
        }
        window_.set_title(app_.file.empty()
                              ? "Evenclose"
                              : (app_.documents.unsaved() ? "* " : "") + file_name(app_.file) + " – Evenclose");
    }

    /// The driver dropped what it held: another window in this one's place, and all that was in it drawn again. What a
    /// person did is not in there.
    void start_anew() {
        if (contexts_lost_ == 0 || seconds_since(first_lost_) > kContextsLostWithin_s) {
            first_lost_ = Clock::now();
            contexts_lost_ = 0;
        }
        if (++contexts_lost_ == kContextsLost) {
            throw std::runtime_error("the graphics driver gives up again and again; what was not saved is offered when "
                                     "the window is opened the next time");
        }
        const std::uint64_t drawn = picture_->pictures();
        picture_.reset();
        sheets_.let_go_of_pictures();
        gui_.reset();
        window_.open_anew();
        gui_ = std::make_unique<Gui>(window_.handle());
        picture_ = std::make_unique<PicturePanel>();
        pictures_before_ += drawn;
        ++contexts_;
        memory_ = {};
        last_frame_.reset();
        draw_soon();
    }

    void panels(const Desk& desk, const Rect& whole) {
        const Layout layout = layout_for(whole.width, whole.height, gui_->scale());
        begin_cover("board", whole, ImGuiWindowFlags_NoBringToFrontOnFocus);
        header_panel(desk, layout.header);
        picture_->draw(desk, layout.picture);
        if (app_.fields.file.empty()) {
            fields_.closed();
            bench_panel(desk, layout.bench);
        } else {
            fields_.draw(desk, layout.bench, text_keys_.waiting());
        }
        rail_panel(desk, layout.rail);
        ledger_panel(desk, layout.ledger);
        ImGui::End();
    }

    static void begin_cover(const char* id, const Rect& whole, ImGuiWindowFlags more) {
        ImGui::SetNextWindowPos({0, 0});
        ImGui::SetNextWindowSize({whole.width, whole.height});
        ImGui::Begin(id, nullptr,
                     ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoBackground |
                         ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav |
                         ImGuiWindowFlags_NoScrollWithMouse | more);
    }

    [[nodiscard]] WindowCounts counts() const {
        int width = 0;
        int height = 0;
        glfwGetFramebufferSize(window_.handle(), &width, &height);
        WindowCounts counts;
        counts.frames = frames_;
        counts.pictures = pictures_before_ + picture_->pictures();
        counts.contexts = contexts_;
        counts.longest_gap_ms = longest_gap_ms_;
        counts.longest_gap_checking_ms = longest_gap_checking_ms_;
        counts.width = static_cast<float>(width);
        counts.height = static_cast<float>(height);
        counts.scale = gui_->scale();
        counts.gl_fault = gl_fault_;
        counts.settled = pending_ == 0 && !app_.moving() && !app_.busy() && !plan_job_.busy() && !app_.writing_report &&
                         !app_.closely.film && !shown_molds_work() &&
                         !(app_.sheet == Sheet::molds && app_.molds.looks_on());
        return counts;
    }

    GlfwWindow window_;
    std::unique_ptr<Gui> gui_;
    App app_;
    std::unique_ptr<PicturePanel> picture_;
    FieldsPanel fields_;
    SheetHolder sheets_;
    PanelMemory memory_;
    Places places_;
    StateFile state_file_;
    std::string gl_fault_;
    std::string noticed_;
    Clock::time_point noticed_at_ = Clock::now();
    WorkKeeper keeper_;
    FileWatch watch_{&GlfwWindow::wake};
    FileStamps watched_; // what it was told to watch
    DocumentTexts known_;
    BackgroundJobs jobs_, plan_job_, report_job_, film_jobs_, mold_looks_, mold_fits_, comparison_,
        dialog_job_; // end before the window that they wake

    std::optional<Cursor> pressed_at_;
    InputOrder order_;
    TextKeys text_keys_;
    int pending_ = kSettlingFrames; // frames that are still to be drawn
    std::optional<Clock::time_point> last_frame_;
    Clock::time_point progress_drawn_{};
    std::uint64_t frames_ = 0;
    std::uint64_t pictures_before_ = 0; // by contexts that were lost
    int contexts_ = 1;
    int contexts_lost_ = 0; // since the first of them
    Clock::time_point first_lost_{};
    bool has_worked_ = false; // since memory was given back
    double longest_gap_ms_ = 0, longest_gap_checking_ms_ = 0;
};

} // namespace

int run_window(const WindowRequest& request, std::ostream& err) {
    try {
        WindowLoop(request).run();
        return 0;
    } catch (const std::runtime_error& fault) {
        err << "evenclose: " << fault.what() << "; `evenclose check` and `evenclose picture` need no display\n";
        return 2;
    }
}

} // namespace evenclose
