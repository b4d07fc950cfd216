"""What is carried to the machine: setups, trial cuts, the packet."""
