"""What a plan lacks where a section would stand, and what it takes for granted."""

WORDS: dict[str, str | tuple[str, str]] = {
    # what is missing
    "plan.survey-first": "the survey first",
    "plan.layout-first": "the layout first",
    "plan.readings": "the readings of the taping plan: write each one into tapes",
    "plan.catalogue": 'a hardware catalogue: write system = "…" in [job] (`stringline systems` lists them)',
    "plan.water": "the water's edge: write [pool] with water = [names of the surveyed points, in order]",
    "plan.cover": "the cover's choices: write [cover] with mount, housing, drive_side and margins",
    "plan.leads": (
        "leads measured while the cover runs: write [run] leads = [[station, closing, opening, current], …]"
    ),
    # what is taken for granted
    "plan.tapes-as-stated": "Every tape without its own σ is taken to have σ = {sigma_m:small}, as the job says.",
    "plan.tapes-of-class": (
        "Tapes are taken to be class {tape_class}: σ is half the class's error limit, combined with {reading_m:small} "
        "for reading and pointing."
    ),
    "plan.tapes-pulled-level": (
        "Tapes were pulled level and straight, near the temperature and pull they are marked for."
    ),
    "plan.track-suits-mount": (
        "The track '{track}' is taken to be made for mounting {mount}: the catalogue does not say. Look before "
        "anything is ordered."
    ),
    "plan.catalogue-invented": "The catalogue '{catalogue}' is invented: no part of it is anybody's product.",
    "plan.sheet.of-job": "{job} – plan at stage '{stage:@common.stage}'",
    # in place of a section
    "plan.sheet.needs": "Not yet: {section}. It needs:",
    "plan.sheet.follows": "Not yet: {section}. Nothing is asked for it at this stage; it comes later.",
}
