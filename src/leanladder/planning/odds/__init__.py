"""What is not known, drawn many times: caps that hold with a stated chance, and the odds that they do not.

`draws` draws worlds within the spreads of data/odds.toml; `members` makes tyres, road and riders of them;
`counting` counts the lean they carry into caps; `falls` and `causes` say how often one would fall, and what
moves a lean most. All members follow the one planned trace.
"""
