"""The owners of the parts of the state: each part is replaced in one of these modules only."""
