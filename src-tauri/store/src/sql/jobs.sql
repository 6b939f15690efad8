-- The jobs as they stand, latest begun first; at most ?1 of them, all when it is negative.
SELECT job.id, told.begun, told.customer, told.vehicle, told.invented,
    (SELECT coalesce(max(place), -1) + 1 FROM entry WHERE entry.job = job.key)
FROM job
JOIN job_revision AS told ON told.job = job.key
WHERE told.revision = (SELECT max(revision) FROM job_revision WHERE job_revision.job = job.key)
ORDER BY told.begun DESC, job.id DESC
LIMIT ?1
