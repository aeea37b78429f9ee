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
- `cuts --pieces … --sticks …`: the fields of [ListedPlan](#listedplan).
- `cuts JOB JOB …` or with `--rack`: `jobs`, their names; the fields of [JobsPlan](#jobsplan); `rack` with `take`,
  `back` and `after`, each a list of [RackPiece](#rackpiece); `held` by job.
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
