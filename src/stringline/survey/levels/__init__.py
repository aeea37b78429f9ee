"""Rod readings: heights, falls, planes."""
