"""Standing cautions and what a crew must not forget: by stage, and on the cards where the danger is."""

WORDS: dict[str, str | tuple[str, str]] = {
    "caution.water": (
        "The water is open while the cover is off or loose: barrier up, somebody watching, nobody working alone."
    ),
    "caution.power": (
        "Electricity is for the licensed trade: isolated, locked out and proved dead before anybody reaches into the "
        "housing."
    ),
    "caution.run": (
        "Whoever holds the control sees all of the water and keeps hold of it; nobody is in the pool or on the cover "
        "while it moves."
    ),
    "caution.nip": (
        "Hands, hair, clothing and tools stay clear of drum, reels, ropes, pulleys and leading edge while they can "
        "turn."
    ),
    "caution.local": (
        "Barriers, bonding, disconnects and the cover standard are for the local code and its inspector to judge; this "
        "book does not."
    ),
    "caution.standing-water": (
        "Show the owner how to stop it, to look over the water first, and what water standing on the cover means."
    ),
    "caution.read-aloud": (
        "Tape level, straight and pulled alike every time; read aloud, hear it read back, write it at once."
    ),
    "caution.mark-points": "Mark every point so that it can be found again after the deck is poured.",
    "caution.pull-string": ("Pull a string along both tracks and the housing before anybody agrees to the layout."),
    "caution.look-round": "Look for what no tape showed: rails, steps, rocks, raised walls, lights and pipes.",
    "caution.sign-once": "The cover and the leading edge are made once. Sign only when nothing holds the survey.",
    "caution.one-revision": (
        "Order from one revision. A later reading that changes it goes to every supplier in writing."
    ),
    "caution.before-pour": (
        "Measure gauge, diagonals and housing while forms can still move, and again just before the pour."
    ),
    "caution.sleeves": "Sleeves, drain and conduit are in before the concrete is.",
    "caution.as-built": (
        "Cut from the as-built readings, not from the order. Measure the channel you are standing at."
    ),
    "caution.factory-ends": "Factory ends stay at the pulley and at every joint; cut at the housing end only.",
    "caution.first-catch": "Stop at the first catch, and write down the station before moving anything.",
    "caution.no-return": "Made-to-measure goods do not go back. Check each figure against its origin before signing.",
    "caution.order-waits": "If a survey check holds, or a reading is marked for re-taping, the order waits.",
}
