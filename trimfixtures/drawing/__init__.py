"""Pictures of trimming as text: cuts in section, a part from above, how far a cut edge is off."""
