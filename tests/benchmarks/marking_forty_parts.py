"""How long marking one learner's forty parts takes, once the bank is read: at most 20 ms is wanted.

Run by hand: python tests/benchmarks/marking_forty_parts.py
"""

import time

from tlib.assessment import Answer, bank, draw, mark

PARTS = 40


def main():
    began = time.process_time()
    exercises = list(bank.load().values())
    print(f"read the bank and its libraries: {1000 * (time.process_time() - began):.0f} ms")
    work, count = [], 0
    while count < PARTS:
        exercise = exercises[len(work) % len(exercises)]
        values = draw(exercise, 17, f"benchmark-{len(work)}")
        work.append((exercise, values))
        count += len(exercise.part)
    for words, factor in (
        ("all right", 1.0),
        ("all wrong in a way nobody knows", 0.77),
        ("all 3.6 times too big", 3.6),
    ):
        scripts = [(exercise, values, answers_for(exercise, values, factor)) for exercise, values in work]
        times = []
        for _ in range(30):
            began = time.process_time()
            for exercise, values, answers in scripts:
                mark(exercise, values, answers)
            times.append(time.process_time() - began)
        best, middle = 1000 * min(times) * PARTS / count, 1000 * sorted(times)[15] * PARTS / count
        print(f"{PARTS} parts, {words}: best {best:.1f} ms, middle {middle:.1f} ms of processor time")


def answers_for(exercise, values, factor):
    """Return every number times a factor; the right letters and spots where the factor is 1, else one of them."""
    answers = {}
    for part in mark(exercise, values, {}).parts:
        if part.kind == "number":
            answers[part.name] = Answer(f"{factor * values.right[part.name]:.4g}", exercise.parts[part.name].unit.name)
        elif part.kind == "written":
            answers[part.name] = Answer("A sentence or two.")
        else:
            answers[part.name] = Answer(part.right if factor == 1.0 else part.right[:1])
    return answers


if __name__ == "__main__":
    main()
