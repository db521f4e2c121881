"""`table`, `setting` and `card` lead with the same way to set the mount, and the same aim."""

import re

WAYS = {
    "spring balance": "spring balance",
    "pressing a strand": "press",
    "plucked strand": "plucked strand",
    "turns": "turns from zero",
}


def known_belt(scenario_file, folder):
    """A copy whose belt is known so well that turns lead."""
    text = scenario_file.read_text()
    text = re.sub(r"^stiffness_factor.*\n", "", text, flags=re.MULTILINE)
    copy = folder / scenario_file.name
    copy.write_text(text.replace("[belt]\n", "[belt]\nstiffness_factor = 1.05\n"))
    return copy


def first_row(page):
    """The label and the aim of the first row of the table of methods, None without one."""
    found = re.search(r"HOW TO SET IT.*\n.*\n  (.{30})(.{12})", page)
    return found and (found[1].strip(), found[2].strip())


def assert_one_order(mountcalc, file):
    table, setting, card = (mountcalc(name, file).out for name in ("table", "setting", "card"))
    told = re.search(
        r"[Ss]et it by (.+?): aim at (.+?) \(mountcalc setting", " ".join(table.split())
    )
    row = first_row(setting)
    if row is None or "do not trust" in setting.split(row[0])[1].split("\n")[0]:
        assert told is None
        return None
    label, aim = row
    assert label.startswith(WAYS[told[1]])
    assert told[2].split(" lbf")[0].split(" oz")[0].split(" N")[0].split(" swings")[0] == aim
    shown = first_row(card)
    assert (shown[0].split()[0], shown[1]) == (label.split()[0], aim)
    return told[1]


def test_all_pages_lead_with_one_method_and_aim(mountcalc, scenario_file):
    led = assert_one_order(mountcalc, scenario_file)
    assert led is not None or scenario_file.stem in {"job-press", "forge-blower"}


def test_all_pages_lead_with_turns_where_the_belt_is_known(mountcalc, cider, tmp_path):
    assert assert_one_order(mountcalc, known_belt(cider, tmp_path)) == "turns"
