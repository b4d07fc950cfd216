"""The page of one joint, drawn anew as it is changed."""
