"""Faults put in on purpose and counted: tried and failed, a row each. See faults_bench."""
