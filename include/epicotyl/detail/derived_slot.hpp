// epicotyl: room beside a value for what is worked out from it.
//
// What takes long to work out from a climate serves every plan under that climate. It is kept with
// the climate and not in a cache of the program: it goes when the climate goes, and two climates
// share nothing. It is no part of the value: copies of a value begin without, and are equal.
#ifndef EPICOTYL_DETAIL_DERIVED_SLOT_HPP
#define EPICOTYL_DETAIL_DERIVED_SLOT_HPP

#include <memory>
#include <mutex>

namespace epicotyl::detail {

class derived_slot {
public:
    derived_slot() = default;
    derived_slot(derived_slot const&) noexcept {}
    derived_slot& operator=(derived_slot const&) = delete;
    ~derived_slot() = default;

    /// What is kept here, made empty when first asked for. Always of the same type; may be called
    /// from several threads, and what it returns must look after its own.
    template <class Derived>
    [[nodiscard]] Derived& get() const {
        std::scoped_lock const lock{lock_};
        if (!held_) { held_ = std::make_shared<Derived>(); }
        return *static_cast<Derived*>(held_.get());
    }

    friend bool operator==(derived_slot const&, derived_slot const&) noexcept { return true; }

private:
    mutable std::mutex lock_;
    mutable std::shared_ptr<void> held_;
};

}  // namespace epicotyl::detail

#endif
