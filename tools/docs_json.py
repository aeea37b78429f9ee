"""docs/json.md: what each verb prints, and every field of every object from the writer's own table of names."""

from __future__ import annotations

from collections.abc import Iterator

from stringline.as_json.names import TABLES, fields_of
from stringline.as_json.write import PARTS

_HEAD = """# JSON

`--json` prints one object with `"schema": 1`. Lengths are metres and end in `_m`, angles radians and end in `_rad`;
a figure is in the SI unit of its `kind`. Texts are in the job's unit. Fields are only ever added within a schema.

## `stringline survey JOB --json`

The fields of [Survey](#survey), and `checks`.

A job with a sketch and no reading yet gives the same object with no points and no tapes, the lines of the taping plan
as `next_tapes`, and `taping`. Its exit code is 1: the check `survey-taped` holds the stage.

## `stringline plan JOB --json`

A section that lacks input stands as `{"needs": ["what is missing", …]}`.
"""

_VERBS = """## Other verbs

- `order JOB`: `job`, `order`, `parts`, `ready`, `placed`, `difference` as in a plan; `held` (codes that hold an
  order, whatever the job's stage); `record`: what `--place` writes into the job (`date`, `mark`, `figures` as
  text), null where there is nothing to order; `written`.
- `difference JOB`: `job`, `placed`, `difference`, `held`.
- `lead JOB`: `job`, `held`, `mechanics`, `lead`. `diagnose JOB`: `job`, `held`, `diagnosis`.
- `taping JOB`: `job` (its name) and the fields of [Taping](#taping).
- `cuts JOB`: `pieces` and `notes` as in a plan, and `held`.
- `cuts --pieces … --sticks …`: `sticks_used`, `bound` (no plan with so little material has fewer), `proven`,
  `material_m`, `material_bound_m`, `waste_m`, `patterns` (`stick`, `length_m`, `times`, `pieces` of `name`,
  `length_m`, `count`; `left_m`).
- `cuts JOB JOB …` or with `--rack`: `jobs`; `proven`; `tracks`, one a profile (`bought_m`, `bound_m`, `gap` as a
  share of what is bought, `sticks`, `runs` with `whole_m`, `last_m`, `joints_m`, `pins_m`, `cuts` stick by stick
  with `spans` of kind piece, kerf, offcut or scrap and `factory_ends` left and right, `rack_used_m`,
  `back_on_rack_m`, `scrap_m`); `plain`, one a material; `rack` (`take`, `back` and `after`, each piece with
  `label`, `length_m`, `text`, `profile`); `held` by job.
- `tape …` and `strike …`: `file`; `added` or `struck` (`line`, `from`, `to`, `read` as it stands in the file);
  `also_count`, the other readings of the same line that are not set aside.
- Faults: exit code 2 prints `{"schema": 1, "document": …, "faults": [{"code", "line", "where", "wrong",
  "right"}]}`; the codes are listed in [faults.md](faults.md).
"""


def markdown() -> str:
    """The whole page."""
    return "\n".join([_HEAD, *_parts(), "", _VERBS, "## Objects", *_objects()]).rstrip() + "\n"


def _parts() -> Iterator[str]:
    yield "| field | what it is |"
    yield "|---|---|"
    for name, part in PARTS.items():
        yield f"| `{name}` | {part.means} |"


def _objects() -> Iterator[str]:
    for table in TABLES:
        yield f"\n### {table}\n"
        yield "| field | meaning |"
        yield "|---|---|"
        for field in fields_of(table):
            yield f"| `{field.name}` | {field.means}{', in words' if field.said else ''} |"
