#include "room_file/driver_reader.hpp"

#include "room_file/place_reader.hpp"

namespace boxroom {

namespace {

DriverChoice read_driver(TableReader& driver, ReadContext& context) {
    DriverChoice choice;
    choice.name = driver.text("name").value_or("");
    choice.price = driver.optional("price", Quantity::plain, {0, 1e7, "0 or more"});
    const Checked fs = driver.required("fs", Quantity::frequency, audible);
    const Checked qts = driver.required("qts", Quantity::plain, {0.01, 2, "between 0.01 and 2"});
    const Checked vas =
        driver.required("vas", Quantity::volume, {1e-5, 10, "between 0.01 L and 10 000 L"});
    const Limits q{0.01, 100, "between 0.01 and 100"};
    DriverSheet& d = choice.sheet;
    d.fs = fs.value, d.qts = qts.value, d.vas = vas.value;
    d.qes = driver.optional("qes", Quantity::plain, q);
    d.qms = driver.optional("qms", Quantity::plain, q);
    d.re = driver.optional("re", Quantity::resistance, {0.1, 100, "between 0.1 ohm and 100 ohm"});
    d.le = driver.optional("le", Quantity::inductance, {0, 0.1, "between 0 mH and 100 mH"});
    d.sd = driver.optional("sd", Quantity::area, {1e-4, 2, "between 1 cm2 and 2 m2"});
    d.xmax = driver.optional("xmax", Quantity::length, {1e-5, 0.2, "between 0.01 mm and 200 mm"});
    d.bl = driver.optional("bl", Quantity::force_factor, {0.1, 200, "between 0.1 and 200 T m"});
    d.mms = driver.optional("mms", Quantity::mass, {1e-4, 10, "between 0.1 g and 10 kg"});
    d.power = driver.optional("power", Quantity::power, {0.1, 1e5, "between 0.1 W and 100 kW"});
    driver.close();
    context.driver_known = fs.good && qts.good && vas.good;
    if (context.driver_known)
        context.faults.attempt(driver.line(), driver.title(), [&] {
            const Driver whole = complete_driver(d, context.air);
            context.driver_absolute = whole.absolute();
            context.warnings.insert(context.warnings.end(), whole.warnings.begin(),
                                    whole.warnings.end());
        });
    return choice;
}

}  // namespace

void read_drivers(TableReader& file, ReadContext& context, Design& design) {
    const toml::node* node = file.find("driver");
    if (!node || !node->is_array()) {
        TableReader driver = file.required_table("driver", "fs, qts and vas from the data sheet");
        const DriverChoice only = read_driver(driver, context);
        design.driver = only.sheet, design.name = only.name;
        return;
    }
    TakenNames taken;
    bool all_known = true, all_absolute = true;
    for (TableReader& driver : file.tables("driver")) {
        if (const auto name = driver.required_text("name", "ten inch"))
            claim_name(driver, *name, taken);
        design.drivers.push_back(read_driver(driver, context));
        all_known = all_known && context.driver_known;
        all_absolute = all_absolute && context.driver_absolute;
    }
    context.driver_known = all_known && !design.drivers.empty();
    context.driver_absolute = all_absolute && context.driver_known;
    if (!design.drivers.empty()) design.driver = design.drivers.front().sheet;
}

void choose_named_driver(TableReader& box, const std::string& name, Design& design) {
    for (const DriverChoice& choice : design.drivers)
        if (choice.name == name) {
            design.driver = choice.sheet, design.name = name;
            return;
        }
    box.fault("driver", "[box] driver is \"" + name + "\", but there is no [[driver]] of that name",
              "write the name of one of the [[driver]]s, or leave it out");
}

Amplifier read_amplifier(TableReader& file) {
    TableReader table = file.table("amplifier", "[amplifier]");
    Amplifier amplifier;
    amplifier.power =
        table.optional("power", Quantity::power, {0.1, 1e5, "between 0.1 W and 100 kW"});
    amplifier.load =
        table.optional("load", Quantity::resistance, {0.5, 100, "between 0.5 ohm and 100 ohm"});
    table.close();
    return amplifier;
}

}  // namespace boxroom
