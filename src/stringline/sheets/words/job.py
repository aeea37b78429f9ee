"""What is wrong in a job file and what would be right, and the words of the files that a job is written into."""

WORDS: dict[str, str | tuple[str, str]] = {
    "job.if-meant": "write {meant} if that is meant",
    # later stages
    "job.no-date": "this is no day",
    "job.write-date": "write it as 2026-05-04",
    "job.rack-long": "there are {n} offcuts in this list",
    "job.rack-most": "list at most {most}",
    "job.phases-two": "a supply has one phase or three",
    "job.phases-one-three": "write 1 or 3",
    "job.task-twice": 'another task is called "{name}"',
    "job.name-of-its-own": "give each its own name",
    "job.no-task": 'no task is called "{name}"',
    "job.name-a-task": "name one that is listed, or list it",
    "job.task-circle": '"{name}" waits for itself',
    "job.break-circle": "leave out one of the tasks that it waits for",
}
