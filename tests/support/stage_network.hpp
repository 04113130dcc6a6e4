// A network of its own for a test: machines in network namespaces, each with a cable to the switch of a hall,
// where the receivers are.
#pragma once

#include <string>

namespace tallow::test {

class StageNetwork {
  public:
    // Whether this machine lets a test make networks; where not, a warning says so.
    static bool allowed();

    // Machines 1, 2, … with the addresses 10.77.0.11, 10.77.0.12, … on `eth0`. REQUIREs that all can be made.
    explicit StageNetwork(int machines);
    ~StageNetwork();
    StageNetwork(const StageNetwork&) = delete;
    StageNetwork& operator=(const StageNetwork&) = delete;

    // The names of the namespaces.
    std::string hall() const { return name("hall"); }
    std::string machine(int i) const { return name(std::to_string(i)); }
    static std::string address(int machine, int interface = 0);

    // Another interface of a machine, with a cable of its own to the switch.
    void add_interface(int machine, int interface);
    void remove_interface(int machine, int interface);
    // At the switch: the machine's interface stays up, and hears of it as little as of a pulled plug.
    void cut_cable(int machine);
    void mend_cable(int machine);
    // At the machine.
    void interface_down(int machine, int interface = 0);
    void interface_up(int machine, int interface = 0);

  private:
    std::string name(const std::string& part) const;
    std::string port(int machine, int interface) const;

    int machines_;
};

// This thread is in a namespace, as long as this lives; "" for where it is.
class InNetwork {
  public:
    explicit InNetwork(const std::string& name);
    ~InNetwork();
    InNetwork(const InNetwork&) = delete;
    InNetwork& operator=(const InNetwork&) = delete;

  private:
    int before_ = -1;
};

}  // namespace tallow::test
