// The sheets of a desk, one function each.
#pragma once

#include "compiler/desk/chases.hpp"
#include "compiler/desk/fidelity.hpp"
#include "compiler/desk/fit.hpp"
#include "compiler/desk/losses.hpp"
#include "compiler/desk/recordings.hpp"
#include "compiler/desk/sheet_words.hpp"

namespace tallow::desk {

// `layout`: that the other sheets are for; null: there is none.
emit::Sheet fit_sheet(const show::Show& show, const show::Desk& desk, const Pictures& pictures,
                      const std::vector<Fit>& fits, Index best, const show::Layout* layout);
emit::Sheet preset_sheet(const OnDesk& on, const std::vector<Preset>& presets,
                         const std::vector<Loss>& losses, const Chases& chases);
emit::Sheet recording_sheet(const OnDesk& on, const Recordings& plan);
emit::Sheet run_sheet(const OnDesk& on, const Recordings& plan, const Chases& chases);
emit::Sheet chase_sheet(const OnDesk& on, const Chases& chases);
emit::Sheet fidelity_sheet(const OnDesk& on, const std::vector<Fidelity>& cues);
emit::Sheet loss_sheet(const OnDesk& on, const std::vector<Loss>& losses);
// What one person does at each cue, for somebody who has never run a show. `recordings`: that the show is
// played from; null: scenes take turns, or the faders of one move.
emit::Sheet operator_sheet(const OnDesk& on, const std::vector<Preset>& presets, const Recordings* recordings,
                           const Chases& chases);

}  // namespace tallow::desk
