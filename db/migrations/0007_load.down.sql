drop table child_effort, lesson_effort;
