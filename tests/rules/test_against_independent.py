"""The reckoning compared with a second one, written apart from it, on thousands of random cases and bad inputs."""

from __future__ import annotations

import json
import os
from io import StringIO
from pathlib import Path
from random import Random
from typing import Any

from shopledger.rules.case_file import answer_file
from shopledger.rules.reckon_file import RECKONING
from tests.rules import independent
from tests.rules.cases import sound_case, spoiled

SOUND, BAD = 2_000, 1_000


def test_random_cases_and_bad_inputs_agree_with_the_independent_reckoning(tmp_path: Path) -> None:
    seed = int(os.environ.get("SHOPLEDGER_SEED", Random().randrange(10**9)))
    print(f"SHOPLEDGER_SEED={seed}")
    dice = Random(seed)
    cases = [sound_case(dice) for _ in range(SOUND)]
    cases += [spoiled(dice, sound_case(dice)) for _ in range(BAD)]
    file = tmp_path / "cases.json"
    file.write_text(json.dumps(cases), encoding="utf-8")
    out, err = StringIO(), StringIO()
    status = answer_file(RECKONING, str(file), True, out, err)
    answers: list[dict[str, Any]] = json.loads(out.getvalue())
    assert len(answers) == len(cases)
    assert (status, err.getvalue()) == (2, "")
    refused = 0
    for case, answer in zip(cases, answers, strict=True):
        expected = independent.reckon(case)
        if expected is None:
            refused += 1
            assert set(answer) == {"refused"}, (seed, case, answer)
            assert ": " in answer["refused"], (seed, case)
            assert len(answer["refused"].splitlines()) == 1, (seed, case)
        else:
            assert "refused" not in answer, (seed, case, answer, expected)
            working = answer.pop("working")
            assert list(answer.items()) == list(expected.items()), (seed, case)
            assert all(set(step) == {"label", "how", "amount"} for step in working)
    # Random cases that are mostly refused, or never, would compare nothing.
    assert BAD // 2 < refused < (SOUND + BAD) * 2 // 3, (seed, refused)
