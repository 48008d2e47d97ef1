"""What tests/mutate.py breaks, one line each, and the tests that must notice.

`before` stands exactly once in `file`. `ctest` is a pattern of CTest's names, `pytest` a list of arguments
for pytest in tests/end_to_end; either may be left out.
"""
from dataclasses import dataclass


@dataclass(frozen=True)
class Mutation:
    name: str
    file: str
    before: str
    after: str
    ctest: str = ""
    pytest: tuple = ()


MUTATIONS = [
    Mutation("box-stiffness-from-half-the-air", "src/woofer/closed_box.cpp",
             "driver.vas / box.apparent_volume", "driver.vas / (2 * box.apparent_volume)", ctest="^(unit|published)_woofer$"),
    Mutation("deviation-keeps-the-offset", "src/placement/criteria.cpp",
             "square - mean * mean", "square", ctest="^unit_placement$"),
    Mutation("threads-unbounded", "src/app/thread_bound.cpp",
             "omp_get_max_threads() > most", "omp_get_max_threads() < 0", pytest=("test_commands.py", "-k", "threads")),
]
